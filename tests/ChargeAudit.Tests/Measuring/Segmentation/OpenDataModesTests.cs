using System.Globalization;
using ChargeAudit.Measuring.Integration;
using ChargeAudit.Measuring.Segmentation;

namespace ChargeAudit.Tests.Measuring.Segmentation;

/// <summary>Real days of a phone charger at the wall, in steps of 2 W; see the README of the open data.</summary>
public sealed class OpenDataModesTests
{
    [Theory]
    [InlineData("charger-smartphone-day-1.csv", 7, 107 * 600, 118 * 600)]
    [InlineData("charger-smartphone-gaps.csv", 3, 113 * 600, 121 * 600)]
    public void One_charge_is_found_where_ten_minute_means_show_it(string file, double intervalS, double noEarlierS, double noLaterS)
    {
        var finding = ModeFinder.Find(Read(file, intervalS), ModeOptions.Default);
        var charge = Assert.Single(finding.Modes, m => m.Mode == Mode.Charge);

        // Means over ten minutes, worked out apart from the project, lie at 2 to 6 W in these stretches and below 0.5 W elsewhere.
        Assert.InRange(charge.StartS, noEarlierS - 600, noEarlierS + 600);
        Assert.InRange(charge.EndS, noLaterS - 1200, noLaterS + 600);
        Assert.Equal(2, finding.Thresholds.StepW, 9);
        Assert.Contains(finding.Doubts, d => d.Text.Contains("the meter's step", StringComparison.Ordinal));
    }

    [Fact]
    public void A_day_at_one_level_shows_no_charge_and_says_so()
    {
        var finding = ModeFinder.Find(Read("charger-smartphone-day-2.csv", 4), ModeOptions.Default);
        Assert.DoesNotContain(finding.Modes, m => m.Mode == Mode.Charge);
        Assert.NotEmpty(finding.Doubts);
    }

    private static PowerEnvelope Read(string file, double intervalS)
    {
        string? folder = Environment.GetEnvironmentVariable("CHARGEAUDIT_OPEN_DATA");
        Assert.SkipWhen(folder is null, "CHARGEAUDIT_OPEN_DATA names no folder of open data");
        var envelope = PowerEnvelope.ForInterval(intervalS);
        DateTime? start = null;
        double lastS = 0;
        double lastW = 0;
        foreach (string line in File.ReadLines(Path.Combine(folder!, file)))
        {
            string[] fields = line.Split(';');
            var time = DateTime.ParseExact(fields[0], "dd/MM/yyyy HH:mm:ss", CultureInfo.InvariantCulture);
            double power = double.Parse(fields[1], CultureInfo.InvariantCulture);
            double seconds = (time - (start ??= time)).TotalSeconds;
            if (seconds < lastS || (seconds == lastS && lastS > 0))
            {
                continue;
            }

            envelope.AddReading(seconds, power);
            if (seconds > 0 && seconds - lastS <= 5 * intervalS)
            {
                envelope.AddInterval(new PowerInterval(lastS, seconds, lastW, power));
            }

            (lastS, lastW) = (seconds, power);
        }

        return envelope;
    }
}
