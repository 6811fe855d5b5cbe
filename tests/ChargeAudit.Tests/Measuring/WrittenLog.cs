using System.Globalization;
using System.Text;
using ChargeAudit.Logs;
using ChargeAudit.Measuring;
using ChargeAudit.Metrology;

namespace ChargeAudit.Tests.Measuring;

/// <summary>A log of stretches of constant power, written as each kind of meter would and measured; its means are exact, as no simulator is
/// in between.</summary>
internal static class WrittenLog
{
    /// <summary>Measures one.</summary>
    /// <param name="levels">Power of each stretch and where it ends. [W], [s]</param>
    /// <param name="intervalS">Time between rows. [s]</param>
    /// <param name="kind">What a row stands for.</param>
    /// <param name="phaseS">Where the first row lies. [s]</param>
    /// <param name="accuracy">Of power.</param>
    public static MeasuredLog Measure(
        (double PowerW, double ToS)[] levels, double intervalS, SampleKind kind, double phaseS = 0, string accuracy = "0.5 % + 5 mW",
            MeasuringPoint point = MeasuringPoint.Wall)
    {
        var text = new StringBuilder("time_s,power_W\n");
        foreach (var (timeS, powerW) in Rows(levels, intervalS, kind, phaseS))
        {
            text.Append(CultureInfo.InvariantCulture, $"{timeS:0.###},{powerW:0.#######}\n");
        }

        return Measure(text.ToString(), new LogOptions { Point = point, Samples = kind }, accuracy);
    }

    /// <summary>Measures a log with a column of power.</summary>
    public static MeasuredLog Measure(string text, LogOptions options, string accuracy)
    {
        string path = Path.GetTempFileName();
        try
        {
            File.WriteAllText(path, text);
            var meter = new Meter { Name = "drawn", Options = options, Accuracy = DataSheet.Of((LogQuantity.Power, accuracy)) };
            return LogMeasurer.Measure(new MeasureRequest { Paths = [path], Names = ["drawn.csv"], Meter = meter },
                cancellation: TestContext.Current.CancellationToken);
        }
        finally
        {
            File.Delete(path);
        }
    }

    private static IEnumerable<(double TimeS, double PowerW)> Rows((double PowerW, double ToS)[] levels, double intervalS, SampleKind kind,
        double phaseS)
    {
        double endS = levels[^1].ToS;
        for (double t = phaseS; t <= endS; t += intervalS)
        {
            var (from, to) = kind switch
            {
                SampleKind.AverageEnding => (t - intervalS, t),
                SampleKind.AverageStarting => (t, t + intervalS),
                _ => (t, t),
            };
            if (from >= 0 && to <= endS)
            {
                yield return (t, to > from ? Joules(levels, from, to) / (to - from) : At(levels, t));
            }
        }
    }

    private static double At((double PowerW, double ToS)[] levels, double timeS) =>
        levels.First(l => timeS < l.ToS || l.ToS == levels[^1].ToS).PowerW;

    private static double Joules((double PowerW, double ToS)[] levels, double fromS, double toS)
    {
        double energy = 0;
        double start = 0;
        foreach (var (power, end) in levels)
        {
            energy += power * Math.Max(0, Math.Min(end, toS) - Math.Max(start, fromS));
            start = end;
        }

        return energy;
    }
}
