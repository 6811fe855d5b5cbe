using ChargeAudit.Logs;

namespace ChargeAudit.Measuring.Integration;

/// <summary>
/// Watches the intervals of logs whose readings stand for a stretch of time: values written on change, which hold until the next row, and
/// means over a window, which say nothing about a window that was lost. Remembers the last change, since a taper shows only in two changes
/// that follow one another; so the first interval of a piece waits for the piece before. Mutable while a log is read; not safe for
/// concurrent writers.
/// </summary>
internal sealed class BetweenRows
{
    // A change of up to this many thresholds may be a drift that crossed the threshold; a larger one is a jump that happened when it was
    // written.
    private const double NearTheThreshold = 2;

    private const double JustAboveTheThreshold = 1.25;

    // A row that brings less was written by a timer.
    private const double SignOfLife = 0.8;

    // Rows no further apart than this many looks follow one another at every look.
    private const double AtEveryLook = 1.5;

    private readonly SummaryRules _rules;

    private BetweenRows(SummaryRules rules, UnseenEnergy unseen)
    {
        _rules = rules;
        Unseen = unseen;
    }

    /// <summary>What may have flowed unseen.</summary>
    public UnseenEnergy Unseen { get; private set; }

    /// <summary>The first interval of this piece, which waits for the change that opened it; null where none waits.</summary>
    public (PowerPoint From, PowerPoint To)? Pending { get; set; }

    /// <summary>Change at the latest row; NaN where it is not known. [W]</summary>
    public double OpeningW { get; set; } = double.NaN;

    /// <summary>Whether values hold until the next row.</summary>
    public bool Holds => _rules.Samples == SampleKind.OnChange;

    /// <summary>One for logs that need it; null for the others.</summary>
    public static BetweenRows? For(SummaryRules rules)
    {
        bool needed = rules.Source != PowerSource.EnergyCounter
            && rules.Samples is SampleKind.OnChange or SampleKind.AverageEnding or SampleKind.AverageStarting;
        return needed
            ? new BetweenRows(rules,
                new UnseenEnergy(
                    PowerEnvelope.ForInterval(rules.MedianIntervalS, holdsValues: rules.Samples == SampleKind.OnChange).FromZero()))
            : null;
    }

    /// <summary>Forgets the last change: what follows an interruption is not a continuation.</summary>
    public void Interrupt() => OpeningW = double.NaN;

    /// <summary>A held value as one interval or two, and what it may hide.</summary>
    /// <param name="from">The row.</param>
    /// <param name="to">The next one.</param>
    /// <param name="openingW">Change at <paramref name="from"/>; NaN where there was none. [W]</param>
    /// <returns>
    /// The value until the next row, or until half a look before it where the logger looks by a timer: the change came at some time since
    /// it looked before. In a taper, where two changes near the threshold follow one another in the same direction, the course lies between
    /// the held value and the straight line; then a line half as steep, which is the middle of the two. Where the rows follow one another
    /// at every look, the straight line.
    /// </returns>
    public (PowerInterval First, PowerInterval? Later) Held(in PowerPoint from, in PowerPoint to, double openingW)
    {
        double length = to.TimeS - from.TimeS;
        double closingW = to.PowerW - from.PowerW;
        double threshold = _rules.ChangeThreshold?.InPowerW(from.PowerW, from.VoltageV) ?? 0;
        double look = Math.Min(_rules.ChangeThreshold?.LookS ?? 0, length);
        double near = NearTheThreshold * threshold;

        // A drift is written at the first look after it crossed the threshold, so it has gone on for a look at most.
        double nearByLook = look > 0 ? (JustAboveTheThreshold * threshold) + (2 * Math.Abs(closingW) * look / length) : near;
        bool everyLook = look > 0 && length <= AtEveryLook * look;
        if (everyLook)
        {
            Unseen.AddIndependent(from.TimeS, to.TimeS, SinceTheLookBefore(closingW, openingW, length));
            return (Line(in from, in to, 1), null);
        }

        // Such a change goes on with the one before it, or comes after a sign of life up to which power drifted by less than the threshold.
        bool goesOn = (closingW * openingW > 0 && Math.Abs(openingW) <= near) || Math.Abs(openingW) < SignOfLife * threshold;
        if (goesOn && closingW != 0 && Math.Abs(closingW) <= Math.Min(near, nearByLook))
        {
            Unseen.AddOneWay(from.TimeS, to.TimeS, closingW);
            return (Line(in from, in to, 0.5), null);
        }

        // Changes of less than the threshold go unwritten, in either direction; small ones are likelier than large ones.
        if (threshold > 0)
        {
            Unseen.AddIndependent(from.TimeS, to.TimeS, threshold * threshold * length * length / 6);
        }

        if (look == 0)
        {
            return (Held(from.TimeS, to.TimeS, in from), null);
        }

        Unseen.AddIndependent(to.TimeS - look, to.TimeS, SinceTheLookBefore(closingW, double.NaN, look));
        double changeS = to.TimeS - (0.5 * look);
        return (Held(from.TimeS, changeS, in from), Held(changeS, to.TimeS, in to));
    }

    // A change came anywhere between two looks: variance (A·h)²/12. What goes to and fro from look to look is caught by chance, and counts
    // in full.
    private static double SinceTheLookBefore(double closingW, double openingW, double lookS)
    {
        double turningW2 = closingW * openingW < 0 ? Math.Min(closingW * closingW, openingW * openingW) : 0;
        return ((((closingW * closingW) - turningW2) / 12) + turningW2) * lookS * lookS;
    }

    private static PowerInterval Held(double fromS, double toS, in PowerPoint row) =>
        new(fromS, toS, row.PowerW, row.PowerW, row.VoltageV, row.CurrentA);

    private static PowerInterval Line(in PowerPoint from, in PowerPoint to, double steepness) => new(
        from.TimeS, to.TimeS, from.PowerW, from.PowerW + (steepness * (to.PowerW - from.PowerW)),
        from.VoltageV + (0.5 * steepness * (to.VoltageV - from.VoltageV)), from.CurrentA
            + (0.5 * steepness * (to.CurrentA - from.CurrentA)));

    /// <summary>Notes windows that were lost between two means: what flowed in them may be anything about as far from either neighbour as
    /// these lie apart.</summary>
    public void Lost(in PowerPoint from, in PowerPoint to)
    {
        double length = to.TimeS - from.TimeS;
        double lost = length - _rules.MedianIntervalS;
        if (lost > 0.5 * _rules.MedianIntervalS && to.PowerW != from.PowerW)
        {
            double change = (to.PowerW - from.PowerW) * lost;
            Unseen.AddIndependent(from.TimeS, to.TimeS, change * change / 3);
        }
    }

    /// <summary>A copy that shares nothing with this one.</summary>
    public BetweenRows Clone() => new(_rules, Unseen.Clone()) { Pending = Pending, OpeningW = OpeningW };

    /// <summary>All that it remembers.</summary>
    public BetweenRowsState State() => new()
    {
        PendingFrom = Pending?.From,
        PendingTo = Pending?.To,
        OpeningW = OpeningW,
        Unseen = Unseen.State(),
    };

    /// <summary>Takes up what another one remembered.</summary>
    public void Take(BetweenRowsState state)
    {
        Pending = state is { PendingFrom: { } from, PendingTo: { } to } ? (from, to) : null;
        OpeningW = state.OpeningW;
        Unseen = UnseenEnergy.Of(state.Unseen);
    }

    /// <summary>An empty one for a later piece of the log.</summary>
    public BetweenRows ForLaterPiece() => new(_rules, Unseen.ForLaterPiece());
}
