using System.Text.Json;
using ChargeAudit.Comparing.Runs;

namespace ChargeAudit.Reports.Charts;

/// <summary>
/// The curves of a chart over time as numbers, for the page's script: every method on one grid of times, counted from the start of its
/// charge. The text is safe inside a script element.
/// </summary>
internal static class CurveData
{
    private const int Cells = 1500;
    private const int Digits = 4;

    private readonly record struct Cell(double FromS, double ToS);

    /// <summary>Mean, least and greatest power in each cell. [W]</summary>
    public static string Power(IReadOnlyList<RunsAtPoint> methods)
    {
        var (from, to) = PowerChart.Window(methods);
        return Write("power", "W", from, to, methods, (method, seen, grid) =>
        {
            var envelope = seen.Log.Envelope;
            var extremes = grid.Select(t => Extremes(seen, t)).ToList();
            return Series(
                method,
                grid.Select(t => envelope.CoveredBetweenS(t.FromS, t.ToS) is > 0 and var covered
                    ? envelope.EnergyBetweenJ(t.FromS, t.ToS) / covered
                    : double.NaN),
                extremes.Select(e => e.Least),
                extremes.Select(e => e.Greatest));
        });
    }

    /// <summary>Energy from the start of the charge to the end of each cell. [Wh]</summary>
    public static string Energy(IReadOnlyList<RunsAtPoint> methods)
    {
        double to = PowerChart.Window(methods).ToS;
        return Write("energy", "Wh", 0, to, methods, (method, seen, grid) =>
        {
            var envelope = seen.Log.Envelope;
            double sum = 0;
            double end = envelope.StartS(envelope.Count);
            return Series(method, grid.Select(t => t.FromS >= end ? double.NaN : sum += envelope.EnergyBetweenJ(t.FromS, t.ToS) / 3600));
        });
    }

    private static string Write(
        string what,
        string unit,
        double fromS,
        double toS,
        IReadOnlyList<RunsAtPoint> methods,
        Func<RunsAtPoint, RunPointResult, IReadOnlyList<Cell>, CurveSeries> series)
    {
        var (_, timeUnit) = PlotFrame.TimeTicks(fromS, toS, 5);
        double step = (toS - fromS) / Cells;
        var document = new CurveDocument(
            what,
            unit,
            timeUnit,
            timeUnit switch { "h" => 3600, "min" => 60, _ => 1 },
            Round(fromS),
            step,
            [.. methods.Select(m => series(m, m.Middle.Seen, Grid(m.Middle.Seen.Charge.StartS + fromS, step)))]);
        return JsonSerializer.Serialize(document, CurveContext.Default.CurveDocument);
    }

    private static List<Cell> Grid(double fromS, double stepS) =>
        [.. Enumerable.Range(0, Cells).Select(i => new Cell(fromS + (i * stepS), fromS + ((i + 1) * stepS)))];

    private static CurveSeries Series(
        RunsAtPoint method, IEnumerable<double> mean, IEnumerable<double>? least = null, IEnumerable<double>? greatest = null)
    {
        var seen = method.Middle.Seen;
        var color = Palette.Of(method.Index);
        return new(
            method.Method,
            Palette.Hex(method.Index),
            Numbers(mean),
            least is null ? null : Numbers(least),
            greatest is null ? null : Numbers(greatest),
            [
                .. seen.Modes.Select(m => new CurveMode(
                    Text.Words.Mode(m.Span.Mode),
                    Palette.Strength(m.Span.Mode),
                    Palette.TextOn(Palette.Over(color.WithAlpha(Palette.Strength(m.Span.Mode)), Palette.Card)).ToHex(),
                    Round(m.Span.StartS - seen.Charge.StartS),
                    Round(m.Span.EndS - seen.Charge.StartS))),
            ]);
    }

    private static (double Least, double Greatest) Extremes(RunPointResult seen, Cell cell)
    {
        var envelope = seen.Log.Envelope;
        int first = Math.Max(0, (int)Math.Floor((cell.FromS - envelope.OriginS) / envelope.BucketWidthS));
        int last = Math.Min(envelope.Count - 1, (int)Math.Floor((cell.ToS - envelope.OriginS) / envelope.BucketWidthS));
        var (least, greatest) = (double.PositiveInfinity, double.NegativeInfinity);
        for (int i = first; i <= last; i++)
        {
            least = Math.Min(least, envelope[i].MinPowerW);
            greatest = Math.Max(greatest, envelope[i].MaxPowerW);
        }

        return (least, greatest);
    }

    private static double?[] Numbers(IEnumerable<double> values) => [.. values.Select(v => double.IsFinite(v) ? Round(v) : (double?)null)];

    private static double Round(double value) => value == 0 || !double.IsFinite(value)
        ? 0
        : Math.Round(value, Math.Clamp(Digits - 1 - (int)Math.Floor(Math.Log10(Math.Abs(value))), 0, 12));
}
