using ChargeAudit.Logs;
using ChargeAudit.Measuring.Integration;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;

namespace ChargeAudit.Measuring.Damage;

/// <summary>
/// A log may be written on change, and in any case after a fixed time. Where a quiet stretch is longer than that time, rows are missing or
/// the clock was put forward: the value before it is held, and the interval reaches down to none of its energy. Where a row comes before
/// that time and changes far less than rows written on change do, the clock was put back: the interval reaches up to the energy of the
/// whole time.
/// </summary>
internal static class QuietClock
{
    private const int LeastInAnyCase = 4;
    private const double HourS = 3600;
    private const double Same = 0.005;
    private const double Off = 0.02;
    private const double OffCells = 2.5;
    private const double Look = 1.2;
    private const double SeveralLooks = 1.5;
    private const int MostOff = 2;

    // Shares of the least changes that are written for their own sake.
    private const double NoChange = 0.5;
    private const double SmallChange = 0.9;
    private const int FewLeast = 2;
    private const int LeastChanges = 5;

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
        double cellS = cells[0].ToS - cells[0].FromS;
        double everyS = longest[Math.Max(at, 0)];

        // Times are known to a cell, and the logger may look a moment too early and write at its next look.
        double offS = Math.Max(Off * everyS, (Look * longest[^1]) + (OffCells * cellS));
        if (at is < 0 or > MostOff || !ChangeLittle(cells, quietS, (everyS, offS), (SeveralLooks * longest[^1]) + cellS))
        {
            foreach (int i in AnHour(cells, quietS, cellS))
            {
                yield return Mark(cells[i + 1], HourS * cells[i].MaxW, Prose.Of(
                    $"no row for {quietS[i]:F0} s of the charge, in which no other two are a quarter as far apart: the clock was probably "
                        + $"put forward by an hour; the interval reaches down to none of that hour's energy"));
            }

            yield break;
        }

        for (int i = 0; at > 0 && i < quietS.Length; i++)
        {
            if (quietS[i] > everyS + offS)
            {
                yield return Mark(cells[i + 1], quietS[i] * Math.Max(0, cells[i].MaxW), Prose.Of(
                    $"no row for {quietS[i]:F0} s, though one is written every {everyS:F0} s at the latest: rows are missing, or the "
                        + $"clock was put forward; the interval reaches down to none of that time's energy"));
            }
        }

        foreach (int i in Soon(cells, quietS, everyS - offS))
        {
            yield return Mark(cells[i + 1], (everyS - quietS[i]) * Math.Max(0, cells[i].MaxW), Prose.Of(
                $"a row {quietS[i]:F0} s after the one before, though nothing changed and one is written every {everyS:F0} s only: the "
                    + $"clock was probably put back; the interval reaches up to {everyS:F0} s of that power"));
        }
    }

    private static MarkedStretch Mark(ReadingCell cell, double hiddenJ, string detail) =>
        new(cell.FromS, cell.ToS, FaultKind.ClockStep, detail) { Kept = true, HiddenJ = 1.1 * hiddenJ };

    // An hour, and what may lie between two rows, where all others are much closer while the device charges.
    private static IEnumerable<int> AnHour(ReadingCell[] cells, double[] quietS, double cellS)
    {
        double chargesW = cells.Max(c => c.MaxW) / 4;
        double[] inCharge = [.. Enumerable.Range(0, quietS.Length).Where(i => cells[i].MaxW > chargesW).Select(i => quietS[i])
            .OrderDescending()];
        double nextS = inCharge.Length > LeastChanges ? inCharge[1] : double.PositiveInfinity;
        return Enumerable.Range(0, quietS.Length).Where(i => nextS < HourS / 4 && quietS[i] > HourS - (OffCells * cellS)
            && quietS[i] < HourS + nextS + (OffCells * cellS) && cells[i].MaxW > chargesW);
    }

    // A load that moves steadily writes rows at equal distances as well, but each for its own sake. How much of a change is written for
    // its own sake the least of those rows tell between which the logger looked several times (a few may be bad): where it looked once,
    // the load may have jumped. And changes of which some are far smaller than most are not written for theirs.
    private static bool ChangeLittle(ReadingCell[] cells, double[] quietS, (double S, double OffS) every, double severalLooksS)
    {
        double[] inAnyCase = Changes(cells, quietS, s => Math.Abs(s - every.S) <= every.OffS),
            sooner = Changes(cells, quietS, s => s < every.S - every.OffS),
            looked = Changes(cells, quietS, s => s < every.S - every.OffS && s > severalLooksS);
        double middle = inAnyCase[inAnyCase.Length / 2];
        bool IsLessThan(double[] changes) => middle < SmallChange * changes[Math.Min(FewLeast, changes.Length - 1)];
        return sooner.Length == 0 || (looked.Length >= LeastChanges ? IsLessThan(looked)
            : inAnyCase[0] <= NoChange * middle && IsLessThan(sooner));
    }

    private static double[] Changes(ReadingCell[] cells, double[] quietS, Func<double, bool> which) =>
        [.. Enumerable.Range(0, quietS.Length).Where(i => which(quietS[i])).Select(i => Change(cells, i)).Order()];

    private static double Change(ReadingCell[] cells, int i) => Math.Abs(cells[i + 1].MiddleW - cells[i].MiddleW);

    // A row that came before the time without a change; none where there are several.
    private static int[] Soon(ReadingCell[] cells, double[] quietS, double beforeS)
    {
        int[] before = [.. Enumerable.Range(0, quietS.Length).Where(i => quietS[i] < beforeS).OrderBy(i => Change(cells, i))];
        return before.Length >= LeastChanges && Change(cells, before[0]) < NoChange * Change(cells, before[1]) ? [before[0]] : [];
    }
}
