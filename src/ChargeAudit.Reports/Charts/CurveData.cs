using System.Text;
using System.Text.Json;
using ChargeAudit.Comparing.Runs;
using ChargeAudit.Metrology;
using ScottPlot;

namespace ChargeAudit.Reports.Charts;

/// <summary>
/// The curves of a chart over time as numbers, for the page's script: every method on one grid of times, counted from the start of its charge.
/// The text is safe inside a script element.
/// </summary>
internal static class CurveData
{
    private const int Cells = 1500;
    private const int Digits = 4;

    /// <summary>Mean, least and greatest power in each cell. [W]</summary>
    public static string Power(IReadOnlyList<RunsAtPoint> methods)
    {
        var (from, to) = PowerChart.Window(methods);
        return Write("power", "W", from, to, methods, (json, seen, grid) =>
        {
            Numbers(json, "mean", grid.Select(t => seen.Log.Envelope.CoveredBetweenS(t.FromS, t.ToS) is > 0 and var covered
                ? seen.Log.Envelope.EnergyBetweenJ(t.FromS, t.ToS) / covered
                : double.NaN));
            var extremes = grid.Select(t => Extremes(seen, t)).ToList();
            Numbers(json, "least", extremes.Select(e => e.Least));
            Numbers(json, "greatest", extremes.Select(e => e.Greatest));
        });
    }

    /// <summary>Energy from the start of the charge to the end of each cell. [Wh]</summary>
    public static string Energy(IReadOnlyList<RunsAtPoint> methods)
    {
        double to = PowerChart.Window(methods).ToS;
        return Write("energy", "Wh", 0, to, methods, (json, seen, grid) =>
        {
            double sum = 0;
            double end = seen.Log.Envelope.StartS(seen.Log.Envelope.Count);
            Numbers(json, "mean", grid.Select(t => t.FromS >= end ? double.NaN : sum += seen.Log.Envelope.EnergyBetweenJ(t.FromS, t.ToS) / 3600));
        });
    }

    private static string Write(
        string what, string unit, double fromS, double toS, IReadOnlyList<RunsAtPoint> methods, Action<Utf8JsonWriter, RunPointResult, List<(double FromS, double ToS)>> curves)
    {
        using var bytes = new MemoryStream();
        using (var json = new Utf8JsonWriter(bytes))
        {
            var (_, timeUnit) = PlotFrame.TimeTicks(fromS, toS, 5);
            double step = (toS - fromS) / Cells;
            json.WriteStartObject();
            json.WriteString("what", what);
            json.WriteString("unit", unit);
            json.WriteString("timeUnit", timeUnit);
            json.WriteNumber("perUnit", timeUnit switch { "h" => 3600, "min" => 60, _ => 1 });
            json.WriteNumber("from", Round(fromS));
            json.WriteNumber("step", step);
            json.WriteStartArray("series");
            foreach (var method in methods)
            {
                var seen = method.Middle.Seen;
                var grid = Enumerable.Range(0, Cells).Select(i => (seen.Charge.StartS + fromS + (i * step), seen.Charge.StartS + fromS + ((i + 1) * step))).ToList();
                json.WriteStartObject();
                json.WriteString("name", method.Method);
                json.WriteString("color", Palette.Hex(method.Index));
                curves(json, seen, grid);
                Modes(json, seen, Palette.Of(method.Index));
                json.WriteEndObject();
            }

            json.WriteEndArray();
            json.WriteEndObject();
        }

        return Encoding.UTF8.GetString(bytes.ToArray());
    }

    private static void Modes(Utf8JsonWriter json, RunPointResult seen, Color color)
    {
        json.WriteStartArray("modes");
        foreach (var mode in seen.Modes)
        {
            json.WriteStartObject();
            json.WriteString("mode", StableName.Of(mode.Span.Mode));
            double strength = Palette.Strength(mode.Span.Mode);
            json.WriteNumber("strength", strength);
            json.WriteString("text", Palette.TextOn(Palette.Over(color.WithAlpha(strength), Palette.Card)).ToHex());
            json.WriteNumber("start", Round(mode.Span.StartS - seen.Charge.StartS));
            json.WriteNumber("end", Round(mode.Span.EndS - seen.Charge.StartS));
            json.WriteEndObject();
        }

        json.WriteEndArray();
    }

    private static (double Least, double Greatest) Extremes(RunPointResult seen, (double FromS, double ToS) cell)
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

    private static void Numbers(Utf8JsonWriter json, string name, IEnumerable<double> values)
    {
        json.WriteStartArray(name);
        foreach (double value in values)
        {
            if (double.IsFinite(value))
            {
                json.WriteNumberValue(Round(value));
            }
            else
            {
                json.WriteNullValue();
            }
        }

        json.WriteEndArray();
    }

    private static double Round(double value) => value == 0 || !double.IsFinite(value)
        ? 0
        : Math.Round(value, Math.Clamp(Digits - 1 - (int)Math.Floor(Math.Log10(Math.Abs(value))), 0, 12));
}
