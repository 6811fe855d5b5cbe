using System.Diagnostics;
using System.Globalization;
using ChargeAudit.Measuring.Segmentation;
using ChargeAudit.Metrology;
using ChargeAudit.Tests.Measuring.Segmentation.Truth;

namespace ChargeAudit.Benchmarks.Modes;

/// <summary>Holds the mode finder against invented logs whose modes are known, and prints the tables of docs/modes.md.</summary>
public static class ModesCommand
{
    private sealed record Row(string Family, TruthLog Log, TruthScore Score, double Milliseconds);

    /// <summary>Runs all logs and prints the tables as Markdown.</summary>
    /// <param name="args">Nothing, or the number of logs of each family that parameters were chosen with; twice as many are held out, a
    /// third of all.</param>
    /// <param name="output">Where the tables go.</param>
    public static int Run(string[] args, TextWriter output)
    {
        int each = args.Length > 0 ? int.Parse(args[0], CultureInfo.InvariantCulture) : 200;
        var rows = new List<Row>();
        foreach (var (family, make, count) in new (string, Func<int, TruthLog>, int)[]
        {
            ("circuit", FirstShapes.Make, each),
            ("stepped", SecondShapes.Make, each),
            ("drawn", ThirdShapes.Make, each),
            ("handled", FourthShapes.Make, each),
            ("catalogue (held out)", FifthShapes.Make, 2 * each),
        })
        {
            for (int i = 0; i < count; i++)
            {
                var log = make(i);
                var envelope = log.Envelope();
                var clock = Stopwatch.StartNew();
                var finding = ModeFinder.Find(envelope, ModeOptions.Default);
                rows.Add(new Row(family, log, TruthScore.Of(log, envelope, finding), clock.Elapsed.TotalMilliseconds));
            }
        }

        output.WriteLine(
            "| logs | number | charges right | all modes right | border error, samples: median | 95 % | borders missed | charge energy "
            + "error: median | 95 % | greatest | charges within 0.2 % | other modes' energy, 95 % | borders within 2 u |");
        output.WriteLine("|---|---|---|---|---|---|---|---|---|---|---|---|---|");
        foreach (string family in rows.Select(r => r.Family).Distinct())
        {
            Print(output, family, rows.Where(r => r.Family == family));
        }

        Print(output, "all", rows);
        foreach (var (name, low, high) in new[] { ("0.1 to 0.5 s", 0.0, 0.6), ("1 s", 0.9, 1.1), ("2 to 6 s", 1.9, 6.1),
            ("10 to 30 s", 9.0, 31.0), ("60 s", 59.0, 61.0) })
        {
            Print(output, "sampled every " + name, rows.Where(r => r.Log.IntervalS >= low && r.Log.IntervalS <= high));
        }

        output.WriteLine();
        output.WriteLine(
            InvariantText.Of(
                $"Median time to find the modes of a log {Quantile(rows.Select(r => r.Milliseconds), 0.5):F1} ms, longest "
            + $"{rows.Skip(5).Max(r => r.Milliseconds):F0} ms."));
        output.WriteLine();
        output.WriteLine("Logs whose charges were not found right:");
        foreach (var row in rows.Where(r => !r.Score.ChargesRight))
        {
            output.WriteLine(
                InvariantText.Of($"- {row.Family}: {row.Log.Name}, every {row.Log.IntervalS} s, plateau {row.Log.PlateauW:F1} W"));
        }

        output.WriteLine();
        output.WriteLine("The ten charges whose energy was furthest out:");
        foreach (var (row, error) in rows.SelectMany(r => r.Score.ChargeEnergyErrors.Select(e => (r, Math.Abs(e))))
            .OrderByDescending(p => p.Item2).Take(10))
        {
            output.WriteLine(
                InvariantText.Of(
                    $"- {100 * error:F2} %: {row.Family}: {row.Log.Name}, every {row.Log.IntervalS} "
                + $"s{(row.Log.Averages ? ", averages" : "")}, plateau {row.Log.PlateauW:F1} W"));
        }

        return 0;
    }

    private static void Print(TextWriter output, string name, IEnumerable<Row> some)
    {
        var rows = some.ToList();
        var borders = rows.SelectMany(r => r.Score.BorderErrors).ToList();
        var energies = rows.SelectMany(r => r.Score.ChargeEnergyErrors).Select(Math.Abs).ToList();
        output.WriteLine(
            InvariantText.Of(
                $"| {name} | {rows.Count} | {Share(rows.Count(r => r.Score.ChargesRight), rows.Count)} | "
            + $"{Share(rows.Count(r => r.Score.SequenceRight), rows.Count)} | {Quantile(borders, 0.5):F2} | {Quantile(borders, 0.95):F2} | "
            + $"{Share(rows.Sum(r => r.Score.MissingBorders), borders.Count + rows.Sum(r => r.Score.MissingBorders))} | "
            + $"{100 * Quantile(energies, 0.5):F3} % | {100 * Quantile(energies, 0.95):F3} % | {100 * Quantile(energies, 1):F2} % | "
            + $"{Share(energies.Count(e => e <= 0.002), energies.Count)} | "
            + $"{100 * Quantile(rows.Select(r => r.Score.OtherEnergyError), 0.95):F2} % | "
            + $"{Share(rows.Sum(r => r.Score.Covered), borders.Count)} |"));
    }

    private static string Share(int part, int whole) => whole == 0 ? "-" : InvariantText.Of($"{100.0 * part / whole:F1} %");

    private static double Quantile(IEnumerable<double> values, double share)
    {
        var sorted = values.Order().ToList();
        return sorted.Count == 0 ? 0 : sorted[Math.Min(sorted.Count - 1, (int)(share * sorted.Count))];
    }
}
