namespace ChargeAudit.Measuring.Integration;

// Intervals of logs whose readings stand for a stretch of time.
public sealed partial class LogSummary
{
    // Not inlined: most logs hold instantaneous readings and never come here.
    [System.Runtime.CompilerServices.MethodImpl(System.Runtime.CompilerServices.MethodImplOptions.NoInlining)]
    private void JoinWatched(in PowerPoint from, in PowerPoint to)
    {
        var between = _betweenRows!;
        bool later = to.TimeS > from.TimeS;
        if (!between.Holds)
        {
            if (later)
            {
                between.Lost(in from, in to);
                Sum(Interval(in from, in to));
            }

            return;
        }

        // The first interval of a piece waits until the change at its first row is known.
        if (Samples == 1)
        {
            between.Pending = (from, to);
        }
        else if (later)
        {
            SumHeld(between.Held(in from, in to, between.OpeningW));
        }

        between.OpeningW = to.PowerW - from.PowerW;
    }

    private void SumHeld((PowerInterval First, PowerInterval? Later) held)
    {
        Sum(held.First);
        if (held.Later is { } later)
        {
            Sum(later);
        }
    }

    private void SumPending(double openingW)
    {
        if (_betweenRows?.Pending is not { } pending)
        {
            return;
        }

        _betweenRows.Pending = null;
        if (pending.To.TimeS > pending.From.TimeS)
        {
            SumHeld(_betweenRows.Held(pending.From, pending.To, openingW));
        }
    }

    // The interval across the cut is in; now the piece's own first one has the change that opened it.
    private void JoinBetweenRows(LogSummary piece)
    {
        if (_betweenRows is not { } own || piece._betweenRows is not { } other)
        {
            return;
        }

        if (other.Pending is { } pending)
        {
            var kept = own.Pending;
            own.Pending = pending;
            SumPending(own.OpeningW);
            own.Pending = kept;
        }

        own.OpeningW = piece.Samples > 1 ? other.OpeningW : own.OpeningW;
        own.Unseen.Join(other.Unseen);
    }
}
