using ChargeAudit.Logs;

namespace ChargeAudit.Measuring.Integration;

/// <summary>
/// Watches the intervals of logs whose readings stand for a stretch of time: values written on change, which hold until the next row, and means over a window, which say nothing of
/// a window that was lost. Remembers the last change, since a taper shows only in two changes that follow one another; so the first interval of a piece waits for the piece before.
/// Mutable while a log is read; not safe for concurrent writers.
/// </summary>
internal sealed class BetweenRows
{
    // A change of up to this many thresholds may be a drift that crossed the threshold; a larger one is a jump that happened when it was written.
    private const double NearTheThreshold = 2;

    private readonly SummaryRules _rules;

    private BetweenRows(SummaryRules rules, UnseenEnergy unseen)
    {
        _rules = rules;
        Unseen = unseen;
    }

    /// <summary>What may have flowed unseen.</summary>
    public UnseenEnergy Unseen { get; private init; }

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
        return needed ? new BetweenRows(rules, new UnseenEnergy(PowerEnvelope.ForInterval(rules.MedianIntervalS))) : null;
    }

    /// <summary>Forgets the last change: what follows an interruption is no continuation.</summary>
    public void Interrupt() => OpeningW = double.NaN;

    /// <summary>A held value as an interval, and what it may hide.</summary>
    /// <param name="from">The row.</param>
    /// <param name="to">The next one.</param>
    /// <param name="openingW">Change at <paramref name="from"/>; NaN where there was none. [W]</param>
    /// <returns>
    /// The value until the next row. In a taper, where two changes near the threshold follow one another in one sense, the course lies between the held value and the straight
    /// line; then a line half as steep, which is the middle of the two.
    /// </returns>
    public PowerInterval Held(in PowerPoint from, in PowerPoint to, double openingW)
    {
        double length = to.TimeS - from.TimeS;
        double closingW = to.PowerW - from.PowerW;
        double threshold = _rules.ChangeThreshold?.InPowerW(from.PowerW, from.VoltageV) ?? 0;
        double near = NearTheThreshold * threshold;
        bool taper = closingW * openingW > 0 && Math.Abs(closingW) <= near && Math.Abs(openingW) <= near;
        if (taper)
        {
            Unseen.AddOneWay(from.TimeS, to.TimeS, 0.5 * closingW * length);
            return new PowerInterval(
                from.TimeS, to.TimeS, from.PowerW, from.PowerW + (0.5 * closingW),
                from.VoltageV + (0.25 * (to.VoltageV - from.VoltageV)), from.CurrentA + (0.25 * (to.CurrentA - from.CurrentA)));
        }

        // Less than the threshold goes unwritten, in either sense; little is likelier than much.
        if (threshold > 0)
        {
            Unseen.AddIndependent(from.TimeS, to.TimeS, threshold * threshold * length * length / 6);
        }

        return new PowerInterval(from.TimeS, to.TimeS, from.PowerW, from.PowerW, from.VoltageV, from.CurrentA);
    }

    /// <summary>Notes windows that were lost between two means: what flowed in them may be anything about as far from either neighbour as these lie apart.</summary>
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

    /// <summary>An empty one for a later piece of the log.</summary>
    public BetweenRows ForLaterPiece() => new(_rules, Unseen.ForLaterPiece());
}
