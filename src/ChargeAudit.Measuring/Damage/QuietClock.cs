using ChargeAudit.Logs;
using ChargeAudit.Measuring.Integration;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;

namespace ChargeAudit.Measuring.Damage;

/// <summary>
/// In a log that is written on change, and in any case after some time, a quiet stretch far longer than that: rows are missing there, or
/// the clock was put forward. The value before it is held, and the interval reaches down to none of it.
/// </summary>
internal static class QuietClock
{
    private const int LeastInAnyCase = 4;
    private const double Same = 0.005;
    private const double TooLong = 2.5;
    private const int MostTooLong = 2;

    public static IEnumerable<MarkedStretch> Find(ReadingCell[] cells, SummaryRules rules)
    {
        if (rules.Samples != SampleKind.OnChange || cells.Length < 10)
        {
            yield break;
        }

        double[] quietS = [.. cells.Zip(cells.Skip(1), (a, b) => b.FromS - a.FromS)];
        double[] longest = [.. quietS.OrderDescending()];

        // The time after which a row is written in any case: the longest that comes several times.
        int at = Enumerable.Range(0, longest.Length)
            .FirstOrDefault(i => i + LeastInAnyCase <= longest.Length && longest[i + LeastInAnyCase - 1] > (1 - Same) * longest[i], -1);
        for (int i = 0; at is > 0 and <= MostTooLong && i < quietS.Length; i++)
        {
            if (quietS[i] > TooLong * longest[at])
            {
                yield return new MarkedStretch(cells[i + 1].FromS, cells[i + 1].ToS, FaultKind.ClockStep, InvariantText.Of(
                    $"no row for {quietS[i]:F0} s, though one is written every {longest[at]:F0} s at the latest: rows are missing, or the "
                        + $"clock was put forward; the interval reaches down to none of that time's energy"))
                {
                    Kept = true,
                    HiddenJ = 1.1 * Math.Max(0, cells[i].MaxW) * quietS[i],
                };
            }
        }
    }
}
