using System.Globalization;
using ChargeAudit.Logs;
using ChargeAudit.Measuring;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;
using static ChargeAudit.Tests.Measuring.TextLog;

namespace ChargeAudit.Tests.Measuring.Damage;

/// <summary>A reading of two to three times the charger's most stands out in a fall, beside a full device and among rows written on change
/// as it does on a plateau.</summary>
public sealed class AbsurdInAFallTests
{
    private const double TauS = 1800;
    private const int EndS = 10_800;

    // 0.2 W, then 10 W from 600 s on, falling from 6000 s on to 0.5 W at 9000 s, and 0.5 W from there: the energy by the formula.
    private static double PowerW(double t) => t < 600 ? 0.2 : t < 6000 ? 10 : t < 9000 ? Math.Max(0.5, 10 * Math.Exp((6000 - t) / TauS))
        : 0.5;

    private static double TrueWh()
    {
        double downS = TauS * Math.Log(20);
        double fallJ = downS < 3000 ? (10 * TauS * (1 - Math.Exp(-downS / TauS))) + (0.5 * (3000 - downS))
            : 10 * TauS * (1 - Math.Exp(-3000 / TauS));
        return ((600 * 0.2) + (5400 * 10) + fallJ + (1800 * 0.5)) / 3600;
    }

    private static string MeanRows(int intervalS, int spikeAtS, double spikeW) => Of("time (s),power (W)",
        Enumerable.Range(1, EndS / intervalS).Select(i => i * intervalS), ("F3", t =>
        {
            double sum = 0;
            for (int k = 0; k < 60; k++)
            {
                sum += PowerW(t - intervalS + ((k + 0.5) * intervalS / 60));
            }

            return t == spikeAtS ? spikeW : (sum / 60) + (0.002 * (t / intervalS % 3));
        }
    ));

    private static LogMeasurement Means(string text, SampleKind samples) =>
        Measure(text, MeasuringPoint.Wall, new LogOptions { Samples = samples }, (LogQuantity.Power, "0.5 %"));

    [Theory]
    [InlineData(30, 6900, 25)]
    [InlineData(60, 7200, 16)]
    [InlineData(300, 6900, 29)]
    [InlineData(60, 9600, 15.5)]
    [InlineData(120, 360, 17)]
    public void A_mean_of_more_than_the_charger_gives_is_left_out(int intervalS, int atS, double absurdW)
    {
        var log = Means(MeanRows(intervalS, atS, absurdW), SampleKind.AverageEnding);
        var fault = Assert.Single(log.Faults, f => f.Kind == FaultKind.Implausible);
        Assert.Equal((atS / intervalS) + 1, fault.FirstLine);
        var interval = log.Energy.Interval()!.Value;
        Assert.InRange(TrueWh(), interval.Low, interval.High);
        Assert.DoesNotContain(Means(MeanRows(intervalS, -1, 0), SampleKind.AverageEnding).Faults, f => f.Kind == FaultKind.Implausible);
    }

    // Three rows at full power and one of the fall, in a log of an hour and more.
    [Theory]
    [InlineData(600)]
    [InlineData(900)]
    public void A_charge_of_few_rows_is_no_spike(int intervalS)
    {
        double[] powersW = [0.2, 0.2, 0.2, 14.8, 15.0, 14.9, 7.2, 1.9, .. Enumerable.Repeat(0.3, 14)];
        string text = Of("time (s),power (W)", Enumerable.Range(0, powersW.Length).Select(i => i * intervalS),
            ("F3", t => powersW[t / intervalS] + (0.001 * (t / intervalS % 3))));
        Assert.DoesNotContain(Means(text, SampleKind.AverageEnding).Faults, f => f.Kind == FaultKind.Implausible);
    }

    // A pulse of the waiting pad or an inrush may be hit by an instant.
    [Fact]
    public void An_instant_beside_a_full_device_may_be_a_pulse()
    {
        var log = Means(MeanRows(60, 9600, 15.5), SampleKind.Instantaneous);
        Assert.DoesNotContain(log.Faults, f => f.Kind == FaultKind.Implausible);
    }

    // A row at each change by 4 % and 0.02 W, and every 600 s; one of them, held for hundreds of seconds, reads three times too much.
    [Theory]
    [InlineData(6900, 26)]
    [InlineData(8400, 33)]
    public void A_held_reading_of_more_than_the_charger_gives_is_left_out(int fromS, double absurdW)
    {
        var rows = new List<(int TimeS, double PowerW)>();
        for (int t = 0; t <= EndS; t += 15)
        {
            double now = Math.Round(PowerW(t), 2);
            if (rows.Count == 0 || Math.Abs(now - rows[^1].PowerW) > 0.02 + (0.04 * rows[^1].PowerW) || t - rows[^1].TimeS >= 600)
            {
                rows.Add((t, now));
            }
        }

        int spiked = rows.FindIndex(r => r.TimeS >= fromS);
        string Text(bool damaged) => "time (s),power (W)\n" + string.Concat(rows.Select((r, i) => string.Create(
            CultureInfo.InvariantCulture, $"{r.TimeS},{(damaged && i == spiked ? absurdW : r.PowerW):F2}\n")));
        var sound = Means(Text(damaged: false), SampleKind.OnChange);
        Assert.DoesNotContain(sound.Faults, f => f.Kind == FaultKind.Implausible);
        var log = Means(Text(damaged: true), SampleKind.OnChange);
        Assert.Equal(spiked + 2, Assert.Single(log.Faults, f => f.Kind == FaultKind.Implausible).FirstLine);
        var interval = log.Energy.Interval()!.Value;
        Assert.InRange(TrueWh(), interval.Low, interval.High);
    }

    // Fifteen rows are a whole charge where one is written at each change only; the absurd one is held for ten minutes.
    [Fact]
    public void Among_few_rows_written_on_change_one_stands_out_as_well()
    {
        const string text = "time (s),power (W)\n0,0.02\n600,0.02\n1020,5.15\n1620,5.22\n2220,5.29\n2820,5.36\n3420,5.30\n3647,4.30\n"
            + "3945,3.29\n4378,{0}\n4978,1.47\n5578,1.03\n6178,1.01\n6778,0.30\n7378,0.29\n";
        var log = Means(text.Replace("{0}", "13.84", StringComparison.Ordinal), SampleKind.OnChange);
        Assert.Equal(11, Assert.Single(log.Faults, f => f.Kind == FaultKind.Implausible).FirstLine);
        var sound = Means(text.Replace("{0}", "2.29", StringComparison.Ordinal), SampleKind.OnChange);
        Assert.DoesNotContain(sound.Faults, f => f.Kind == FaultKind.Implausible);
        Assert.InRange(sound.Energy.Value, log.Energy.Interval()!.Value.Low, log.Energy.Interval()!.Value.High);
    }
}
