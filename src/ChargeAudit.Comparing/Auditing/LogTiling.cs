using ChargeAudit.Measuring;
using ChargeAudit.Measuring.Segmentation;
using ChargeAudit.Metrology;

namespace ChargeAudit.Comparing.Auditing;

/// <summary>
/// The modes of a log around the charges of its runs. A run's charge may be carried over from another meter's log or end where the device
/// said that it was full, so its borders are not those that the log itself shows. Its neighbours end and start where it does: the modes of
/// one log tile it, without overlap and without slivers.
/// </summary>
internal static class LogTiling
{
    /// <summary>What lies between a log's own border and a run's, and is no longer than this many intervals between rows, is not a mode of
    /// its own.</summary>
    private const double SliverIntervals = 4;
    private const double SliverUncertainties = 3;

    /// <summary>Modes with their figures.</summary>
    /// <param name="log">The log.</param>
    /// <param name="charges">Charges of the runs that were made of it, in order; they do not overlap.</param>
    public static IReadOnlyList<ModeResult> Of(MeasuredLog log, IReadOnlyList<ModeSpan> charges)
    {
        var own = log.Result.Modes;
        var spans = Spans([.. own.Select(m => m.Span)], charges, log.Result.Layout.MedianIntervalS);
        return [.. spans.Select(s => own.FirstOrDefault(m => m.Span == s) ?? ModeFigures.Of(log.Energies, s, Part(s)))];
    }

    /// <summary>The spans alone.</summary>
    internal static List<ModeSpan> Spans(List<ModeSpan> modes, IReadOnlyList<ModeSpan> charges, double intervalS)
    {
        foreach (var charge in charges)
        {
            modes = Around(modes, charge, intervalS);
        }

        return modes;
    }

    private static List<ModeSpan> Around(List<ModeSpan> modes, ModeSpan charge, double intervalS)
    {
        if (modes.Contains(charge))
        {
            return modes;
        }

        var before = modes.Where(m => m.StartS < charge.StartS).Select(m => m.EndS > charge.StartS ? Ending(m, charge) : m).ToList();
        var after = modes.Where(m => m.EndS > charge.EndS).Select(m => m.StartS < charge.EndS ? Starting(m, charge) : m).ToList();

        // What is left over of the log's own charge goes to the mode beside it where it is a sliver, or where the fall of the charge merely
        // began earlier there.
        if (before.Count > 0 && before[^1].Mode == Mode.Charge && IsSliver(before[^1], charge.StartUncertaintyS, intervalS))
        {
            before.RemoveAt(before.Count - 1);
        }

        if (before.Count > 0 && before[^1].EndS < charge.StartS)
        {
            before[^1] = Ending(before[^1], charge);
        }

        if (after.Count > 0 && after[0].Mode == Mode.Charge
            && modes.Exists(m => m.Mode == Mode.Charge && Overlaps(m, charge) && m.EndS == after[0].EndS))
        {
            if (after.Count > 1 && (after[1].Mode == Mode.Maintenance || IsSliver(after[0], charge.EndUncertaintyS, intervalS)))
            {
                after.RemoveAt(0);
            }
            else
            {
                after[0] = after[0] with { Mode = Mode.Maintenance };
            }
        }

        if (after.Count > 0 && after[0].StartS > charge.EndS)
        {
            after[0] = Starting(after[0], charge);
        }

        return [.. before, charge, .. after];
    }

    private static bool Overlaps(ModeSpan mode, ModeSpan charge) => mode.StartS < charge.EndS && mode.EndS > charge.StartS;

    private static bool IsSliver(ModeSpan span, double uncertaintyS, double intervalS) =>
        span.DurationS <= Math.Max(SliverIntervals * intervalS, SliverUncertainties * uncertaintyS);

    private static ModeSpan Ending(ModeSpan span, ModeSpan charge) => span with
    {
        EndS = charge.StartS,
        EndUncertaintyS = charge.StartUncertaintyS,
        EndErrors = charge.StartErrors,
        OpenAtEnd = charge.OpenAtStart,
    };

    private static ModeSpan Starting(ModeSpan span, ModeSpan charge) => span with
    {
        StartS = charge.EndS,
        StartUncertaintyS = charge.EndUncertaintyS,
        StartErrors = charge.EndErrors,
        OpenAtStart = charge.OpenAtEnd,
    };

    private static string Part(ModeSpan span) =>
        InvariantText.Of($"{StableName.Of(span.Mode).Replace("-", "", StringComparison.Ordinal)}-from-{span.StartS:F0}-s");
}
