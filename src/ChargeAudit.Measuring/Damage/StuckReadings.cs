using System.Globalization;
using ChargeAudit.Logs;
using ChargeAudit.Measuring.Integration;
using ChargeAudit.Metrology.Diagnostics;

namespace ChargeAudit.Measuring.Damage;

/// <summary>
/// Readings that stay the same to the last digit among readings that scatter: a sensor that was stuck. Scatter is what tells: in the rows before, at about the same power, neighbours
/// differ and turn up and down, and so they do in the rows after, or these lie well below, as where a stuck sensor catches up with a charge that went on. A coarse meter whose value
/// dwells in its steps, and a charger that holds its power so well that nothing scatters, show no such rows.
/// </summary>
internal static class StuckReadings
{
    private const int LeastRows = 20;
    private const double LeastS = 60;
    private const double SameLevel = 0.25;

    private const double CaughtUpFrom = 0.1;
    private const double CaughtUpTo = 0.95;

    // Chance lets readings that are equal once in 1/q stay equal for n rows with q^n; e^-25 is next to never.
    private const double LeastSurprise = 25;

    public static IEnumerable<MarkedStretch> Find(ReadingCell[] cells, SummaryRules rules)
    {
        if (rules.Samples == SampleKind.OnChange)
        {
            yield break;
        }

        for (int from = 0; from < cells.Length;)
        {
            int to = from;
            while (to + 1 < cells.Length && cells[from].IsFlat && cells[to + 1].IsFlat && cells[to + 1].MinW == cells[from].MinW)
            {
                to++;
            }

            double lengthS = cells[to].ToS - cells[from].FromS;
            long rows = to > from ? Readings(cells, from, to) : 1;
            if (rows >= LeastRows && lengthS >= LeastS && cells[from].MinW > 0 && Scatter.Shows(cells, from - Scatter.Rows, from, cells[from].MinW, SameLevel, out double before)
                && rows * Math.Log(1 / Math.Max(0.05, before)) > LeastSurprise && (Scatter.Shows(cells, to + 1, to + 1 + Scatter.Rows, null, 0, out _) || CaughtUp(cells, to)))
            {
                yield return Mark(cells[from], cells[to], lengthS, rules);
            }

            from = to + 1;
        }
    }

    // The first of equal readings was still measured.
    private static MarkedStretch Mark(ReadingCell first, ReadingCell last, double lengthS, SummaryRules rules) =>
        new(first.ToS + StampShift.Of(rules), last.ToS + StampShift.Of(rules), FaultKind.Stuck, string.Create(
            CultureInfo.InvariantCulture,
            $"readings stay at {first.MinW:G5} W to the last digit for {lengthS:F0} s, where those before scatter: the sensor was stuck; they were left out, as in a gap"));

    private static bool CaughtUp(ReadingCell[] cells, int last)
    {
        if (last + 1 + Scatter.Rows > cells.Length)
        {
            return false;
        }

        double stuckW = cells[last].MaxW;
        var after = cells.AsSpan(last + 1, Scatter.Rows).ToArray();
        return after[0].MiddleW < CaughtUpTo * stuckW && after.All(c => c.MiddleW > CaughtUpFrom * stuckW) && after.Select(c => c.MiddleW).Distinct().Take(3).Count() == 3;
    }

    private static long Readings(ReadingCell[] cells, int from, int to)
    {
        long readings = 0;
        for (int i = from; i <= to; i++)
        {
            readings += cells[i].Readings;
        }

        return readings;
    }
}
