using ChargeAudit.Measuring.Alignment;
using ChargeAudit.Metrology;

namespace ChargeAudit.Studies.Drafting;

/// <summary>
/// Which logs of different measuring points belong to one run: those that overlap in time and whose power steps agree, and, where clocks do
/// not say it, those whose names do. A pair is taken only where nothing speaks against it; the best pairs first, one log a point.
/// </summary>
internal static class RunPairing
{
    /// <summary>Clocks that differ by less than this are clocks set at about the same time. [s]</summary>
    private const double NearS = 900;

    /// <summary>No two zones lie further apart. [s]</summary>
    private const double FurthestZonesS = 26 * 3600;

    /// <summary>Least part of the shorter log that must overlap. [1]</summary>
    private const double LeastOverlap = 0.5;

    /// <summary>Correlation that lets two clocks lie whole hours apart. [1]</summary>
    private const double StrongCorrelation = 0.7;

    /// <summary>Bundles logs.</summary>
    /// <param name="logs">The logs, each with its point.</param>
    public static IReadOnlyList<RunBundle> Of(IReadOnlyList<PlacedLog> logs)
    {
        var pairs = new List<Pair>();
        for (int i = 0; i < logs.Count; i++)
        {
            for (int j = i + 1; j < logs.Count; j++)
            {
                if (logs[i].Point.Point != logs[j].Point.Point && MayBelong(logs[i], logs[j]))
                {
                    bool first = logs[i].Point.Point < logs[j].Point.Point;
                    pairs.Add(Judge(first ? i : j, first ? j : i, logs));
                }
            }
        }

        var group = Enumerable.Range(0, logs.Count).ToArray();
        var remarks = new Dictionary<int, List<DraftRemark>>();
        foreach (var pair in pairs.Where(p => p.Score > 0).OrderByDescending(p => p.Score))
        {
            var points = Members(pair.Upstream).Concat(Members(pair.Downstream)).Select(m => logs[m].Point.Point).ToList();
            if (group[pair.Upstream] != group[pair.Downstream] && points.Distinct().Count() == points.Count)
            {
                Merge(group, group[pair.Downstream], group[pair.Upstream]);
                Said(pair.Upstream).AddRange(pair.Remarks);
            }
        }

        return
        [
            .. Enumerable.Range(0, logs.Count).GroupBy(i => group[i]).Select(g => new RunBundle(
                [.. g.Select(i => logs[i]).OrderBy(l => l.Point.Point)],
                [.. g.SelectMany(i => remarks.GetValueOrDefault(i, []))])),
        ];

        IEnumerable<int> Members(int of) => Enumerable.Range(0, logs.Count).Where(i => group[i] == group[of]);
        List<DraftRemark> Said(int of) => remarks.TryGetValue(of, out var said) ? said : remarks[of] = [];
    }

    private static void Merge(int[] group, int from, int to)
    {
        for (int i = 0; i < group.Length; i++)
        {
            group[i] = group[i] == from ? to : group[i];
        }
    }

    // Different kinds by name, or a charge here and waiting there, are never one run.
    private static bool MayBelong(PlacedLog a, PlacedLog b) =>
        a.HoldsCharge == b.HoldsCharge
        && a.Facts.Charges.Count == b.Facts.Charges.Count
        && (a.Words.Kind is null || b.Words.Kind is null || a.Words.Kind == b.Words.Kind);

    private static Pair Judge(int upstream, int downstream, IReadOnlyList<PlacedLog> logs)
    {
        var (up, down) = (logs[upstream], logs[downstream]);
        bool named = up.Words.Stem == down.Words.Stem;
        double? apartS = up.Facts.Start is { } a && down.Facts.Start is { } b ? (a - b).TotalSeconds : null;
        double overlap = apartS is { } s ? OverlapShare(s, up.Facts.DurationS, down.Facts.DurationS) : 0;
        bool near = overlap >= LeastOverlap;
        bool zones = apartS is { } z && Math.Abs(z) <= FurthestZonesS && !near;
        if (!named && !near && !zones)
        {
            return Pair.None;
        }

        // Waiting has no lasting steps to align by.
        var alignment = up.HoldsCharge
            ? ClockAligner.Find(down.Facts.Envelope, up.Facts.Envelope).Alignment
            : null;
        double? ahead = alignment is { } found && apartS is { } apart ? apart - found.OffsetS : null;
        var remarks = new List<DraftRemark>();
        string pair = $"{up.Facts.File} and {down.Facts.File} are one run";
        string steps = alignment is null ? "" : Prose.Of($"their power steps agree (correlation {alignment.Correlation:F2})");
        string clocks = ahead is { } by ? Prose.Of($"{Math.Abs(by):0.#} s apart") : "";
        double bonus = named ? 2 : 0;
        if (near && ahead is { } close && Math.Abs(close) <= NearS)
        {
            remarks.Add(DraftRemark.Guess($"{pair}: they overlap in time, and {steps}; their clocks stand {clocks}."));
            return new Pair(upstream, downstream, 2 + overlap + alignment!.Correlation + bonus, remarks);
        }

        if (near && (alignment is null || named))
        {
            remarks.Add(
                DraftRemark.Guess($"{pair}: they overlap in time{(named ? " and have one name but for the measuring point" : "")}."));
            if (up.HoldsCharge)
            {
                remarks.Add(
                    DraftRemark.Question(
                        $"The power steps of {up.Facts.File} and {down.Facts.File} do not confirm that. Are they of the same charge?"));
            }

            return new Pair(upstream, downstream, 1 + overlap + bonus, remarks);
        }

        if (ahead is { } off && (named || alignment!.Correlation >= StrongCorrelation) && WholeHours(off))
        {
            remarks.Add(
                DraftRemark.Guess($"{pair}: {steps} when the clocks are taken to stand {Math.Abs(Math.Round(off / 3600)):0} h apart."));
            remarks.Add(
                DraftRemark.Question(
                    $"Do the clocks of {up.Facts.File} and {down.Facts.File} stand in different time zones, or one in summer time?"));
            return new Pair(upstream, downstream, 1 + alignment!.Correlation + bonus, remarks);
        }

        if (named && apartS is null)
        {
            remarks.Add(
                DraftRemark.Guess($"{pair}: they have one name but for the measuring point{(alignment is null ? "" : $", and {steps}")}."));
            if (up.HoldsCharge && alignment is null)
            {
                remarks.Add(
                    DraftRemark.Question(
                        $"No clock and no power steps confirm that {up.Facts.File} and {down.Facts.File} are of the same charge. "
                    + "Are they?"));
            }

            return new Pair(upstream, downstream, 1 + (alignment?.Correlation ?? 0), remarks);
        }

        return Pair.None;
    }

    private static double OverlapShare(double apartS, double upS, double downS)
    {
        double from = Math.Max(apartS, 0), to = Math.Min(apartS + upS, downS);
        return Math.Max(0, to - from) / Math.Max(1, Math.Min(upS, downS));
    }

    private static bool WholeHours(double seconds) =>
        Math.Abs(seconds) is > NearS and <= FurthestZonesS && Math.Abs(seconds - (3600 * Math.Round(seconds / 3600))) <= 120;

    private sealed record Pair(int Upstream, int Downstream, double Score, IReadOnlyList<DraftRemark> Remarks)
    {
        public static Pair None { get; } = new(0, 0, 0, []);
    }
}
