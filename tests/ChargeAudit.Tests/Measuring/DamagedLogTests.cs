using System.Globalization;
using System.Text;
using ChargeAudit.Logs;
using ChargeAudit.Measuring;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;

namespace ChargeAudit.Tests.Measuring;

/// <summary>The energy of a log with injected faults stays within its stated interval of the truth.</summary>
public sealed class DamagedLogTests
{
    private const int Logs = 160;
    private const int Seconds = 1500;
    private const double GainHalfWidth = 0.01;
    private const double OffsetHalfWidthW = 0.005;

    // 95 % intervals miss at most one log in twenty: of 160, 8 on average with a standard deviation of √(160 · 0.05 · 0.95) = 2.8. More
    // than 17 would come by chance once in a thousand times if the intervals were just wide enough.
    private const int MostMisses = 17;

    private sealed record Damaged(string Text, double TrueWh, FaultKind Kind);

    [Fact]
    public void Energy_stays_within_the_interval_of_the_truth()
    {
        var misses = new List<string>();
        for (int seed = 0; seed < Logs; seed++)
        {
            foreach (var kind in new[] { FaultKind.Gap, FaultKind.TimeBackwards, FaultKind.UnreadableField, FaultKind.TimeDuplicate,
                FaultKind.ClockStep, FaultKind.CounterReset }.Skip(seed % 6).Take(1))
            {
                Damaged log = Make(new Random(seed), kind);
                var result = Measure(log.Text);
                var interval = result.Energy.Interval()!.Value;

                Assert.Contains(result.Faults, f => f.Kind == log.Kind);
                Assert.True(interval.High - interval.Low < 0.5 * log.TrueWh, "an interval that holds everything says nothing");
                if (log.TrueWh < interval.Low || log.TrueWh > interval.High)
                {
                    misses.Add(
                        InvariantText.Of($"{kind}, seed {seed}: {log.TrueWh:F4} Wh is not in {interval.Low:F4} to {interval.High:F4}"));
                }
            }
        }

        Assert.True(misses.Count <= MostMisses, string.Join('\n', misses));
    }

    private static ChargeAudit.Measuring.LogMeasurement Measure(string text)
    {
        string path = Path.GetTempFileName();
        try
        {
            File.WriteAllText(path, text);
            var meter = new Meter
            {
                Name = "invented",
                Options = new LogOptions { Point = MeasuringPoint.Usb, Samples = SampleKind.Instantaneous },
                Accuracy = DataSheet.Of((LogQuantity.Power, "1 % + 5 mW"), (LogQuantity.Energy, "1 %")),
            };
            return LogMeasurer.Measure(new MeasureRequest { Paths = [path], Meter = meter },
                cancellation: TestContext.Current.CancellationToken).Result;
        }
        finally
        {
            File.Delete(path);
        }
    }

    // The true power falls from a plateau; the meter has a gain and an offset anywhere within its accuracy, and a little noise.
    private static Damaged Make(Random random, FaultKind kind)
    {
        double plateauW = 4 + (6 * random.NextDouble());
        double bendS = Seconds * (0.3 + (0.4 * random.NextDouble()));
        double fallS = 100 + (200 * random.NextDouble());
        double gain = 1 + (GainHalfWidth * ((2 * random.NextDouble()) - 1));
        double offsetW = OffsetHalfWidthW * ((2 * random.NextDouble()) - 1);
        double Power(double s) => s < bendS ? plateauW : plateauW * Math.Exp(-(s - bendS) / fallS);
        double TrueJ(double s) => plateauW * (Math.Min(s, bendS) + (fallS * (1 - Math.Exp(-Math.Max(0, s - bendS) / fallS))));

        int[] places = [.. Enumerable.Range(0, 4).Select(i => 100 + (i * 350) + random.Next(200))];
        int gapS = 10 + random.Next(60);
        int setBackS = 30 + random.Next(600);
        var text = new StringBuilder("time_s,power_W,energy_Wh\n");
        double clockS = 0;
        double counterFromJ = 0;
        for (int s = 0; s <= Seconds; s++)
        {
            bool here = places.Contains(s);
            if (kind == FaultKind.Gap && places.Any(p => s > p && s < p + gapS))
            {
                continue;
            }

            counterFromJ = here && kind == FaultKind.CounterReset ? TrueJ(s) : counterFromJ;
            clockS -= here && kind == FaultKind.ClockStep ? setBackS : 0;
            string power = here && kind == FaultKind.UnreadableField
                ? "#err"
                : Text((Power(s) * gain) + offsetW + (0.002 * (random.NextDouble() - 0.5)), 4);
            string row = $"{power},{Text((TrueJ(s) - counterFromJ) * gain / 3600, 5)}\n";
            text.Append(Text(s + clockS, 1)).Append(',').Append(row);
            if (here && kind == FaultKind.TimeDuplicate)
            {
                text.Append(Text(s + clockS, 1)).Append(',').Append(row);
            }
            else if (here && kind == FaultKind.TimeBackwards)
            {
                // A stray row, with a power that never flowed.
                text.Append(Text(s - 50, 1)).Append(",400.0,").Append(Text((TrueJ(s) - counterFromJ) * gain / 3600, 5)).Append('\n');
            }
        }

        return new Damaged(text.ToString(), TrueJ(Seconds) / 3600, kind);
    }

    private static string Text(double value, int decimals) =>
        value.ToString("F" + decimals.ToString(CultureInfo.InvariantCulture), CultureInfo.InvariantCulture);
}
