using System.Text.Json;

namespace ChargeAudit.Reports.Bundles;

/// <summary>Compares two results documents value by value. Where they come from (program, time, command) is not a figure and left
/// out.</summary>
internal static class ResultsComparison
{
    /// <summary>Numbers that agree to this are the same: other machines round the last digits of elementary functions differently.
    /// [1]</summary>
    public const double Tolerance = 1e-9;

    private const string LeftOut = "provenance";

    /// <summary>How many numbers were compared, and what differs.</summary>
    public static (int Compared, IReadOnlyList<FigureDifference> Differences) Of(JsonElement was, JsonElement now)
    {
        var found = new List<FigureDifference>();
        int compared = 0;
        Compare("", was, now, found, ref compared);
        return (compared, found);
    }

    private static void Compare(string where, JsonElement was, JsonElement now, List<FigureDifference> found, ref int compared)
    {
        if (was.ValueKind == JsonValueKind.Object && now.ValueKind == JsonValueKind.Object)
        {
            foreach (string name in was.EnumerateObject().Concat(now.EnumerateObject()).Select(p => p.Name).Distinct())
            {
                if (where.Length == 0 && name == LeftOut)
                {
                    continue;
                }

                string at = where.Length == 0 ? name : $"{where}.{name}";
                Both(at, was.TryGetProperty(name, out var a) ? a : null, now.TryGetProperty(name, out var b) ? b : null, found,
                    ref compared);
            }
        }
        else if (was.ValueKind == JsonValueKind.Array && now.ValueKind == JsonValueKind.Array)
        {
            for (int i = 0; i < Math.Max(was.GetArrayLength(), now.GetArrayLength()); i++)
            {
                Both($"{where}[{i}]", i < was.GetArrayLength() ? was[i] : null, i < now.GetArrayLength() ? now[i] : null, found,
                    ref compared);
            }
        }
        else if (was.ValueKind == JsonValueKind.Number && now.ValueKind == JsonValueKind.Number)
        {
            compared++;
            double a = was.GetDouble(), b = now.GetDouble();
            if (!(Math.Abs(a - b) <= Tolerance * Math.Max(Math.Abs(a), Math.Abs(b))))
            {
                found.Add(new FigureDifference(where, was.GetRawText(), now.GetRawText(), b - a));
            }
        }
        else if (was.GetRawText() != now.GetRawText())
        {
            found.Add(new FigureDifference(where, was.GetRawText(), now.GetRawText(), null));
        }
    }

    private static void Both(string where, JsonElement? was, JsonElement? now, List<FigureDifference> found, ref int compared)
    {
        if (was is { } a && now is { } b)
        {
            Compare(where, a, b, found, ref compared);
        }
        else
        {
            found.Add(new FigureDifference(where, was?.GetRawText(), now?.GetRawText(), null));
        }
    }
}
