using ChargeAudit.Logs;
using ChargeAudit.Measuring.Integration;

namespace ChargeAudit.Measuring.Segmentation;

/// <summary>
/// The part of a mode whose rows lie wholly inside it. A row that touches a border holds some of the other mode: an average reaches over
/// its interval, an instantaneous reading shares a straight line with its neighbour, a counter's step goes back to the step before. So at
/// each border within the log twice the border's standard uncertainty is left out, then everything up to the first row that reaches no
/// further back, and the cell in which this row lies, as cells may be wider than rows.
/// </summary>
/// <param name="FromS">Start, at the edge of a cell or of the log. [s]</param>
/// <param name="ToS">End, likewise; no later than the start where nothing lies wholly inside. [s]</param>
/// <param name="Readings">Rows in it.</param>
internal readonly record struct ModeInterior(double FromS, double ToS, long Readings)
{
    /// <summary>Borders are left out to this many standard uncertainties. [1]</summary>
    private const double Uncertainties = 2;

    /// <summary>Whether anything lies wholly inside.</summary>
    public bool IsEmpty => !(ToS > FromS);

    /// <summary>Finds it.</summary>
    /// <param name="envelope">Power over time.</param>
    /// <param name="span">The mode.</param>
    /// <param name="kind">What a reading stands for.</param>
    /// <param name="intervalS">Usual interval between rows. [s]</param>
    /// <param name="counted">Whether power comes from an energy counter.</param>
    public static ModeInterior Of(PowerEnvelope envelope, ModeSpan span, SampleKind kind, double intervalS, bool counted)
    {
        double slack = 1e-6 * envelope.BucketWidthS;
        bool fromEdge = span.StartS <= envelope.CoveredFromS + slack;
        bool toEdge = span.EndS >= envelope.CoveredToS - slack;
        double from = fromEdge
            ? span.StartS
            : Towards(envelope, span.StartS, span.StartS + (Uncertainties * span.StartUncertaintyS), span.EndS, kind, intervalS, counted);
        double to = toEdge
            ? span.EndS
            : Towards(envelope, span.EndS, span.EndS - (Uncertainties * span.EndUncertaintyS), span.StartS, kind, intervalS, counted);
        return new ModeInterior(from, to, to > from ? Count(envelope, from, to) : 0);
    }

    // From a border into the mode, in either direction: the far side of the first cell that holds a row which does not reach back over the
    // border.
    private static double Towards(PowerEnvelope envelope, double borderS, double clearS, double farS, SampleKind kind, double intervalS,
        bool counted)
    {
        bool forward = farS > borderS;
        double sign = forward ? 1 : -1;
        int step = forward ? 1 : -1;
        double reach = kind is SampleKind.AverageEnding or SampleKind.AverageStarting ? 0.5 * intervalS : 0;

        // A value that is held until it changes reaches over no border; of a counter alone no row is counted in a cell.
        bool byRows = kind != SampleKind.OnChange && !counted;
        double atBorderW = envelope.MeanAtW(borderS);
        for (int i = envelope.IndexAt(clearS); i >= 0 && i < envelope.Count; i += step)
        {
            double nearS = forward ? envelope.StartS(i) : envelope.StartS(i + 1);
            double beyondS = forward ? envelope.StartS(i + 1) : envelope.StartS(i);
            if (sign * (farS - nearS) <= 0)
            {
                break;
            }

            double clear = sign * (nearS - clearS);
            if (clear < 0)
            {
                continue;
            }

            if (counted ? !IsSameStep(envelope[i], atBorderW) && clear >= intervalS : !byRows
                || (clear >= reach && envelope[i].Readings > 0))
            {
                return byRows || counted ? beyondS : nearS;
            }
        }

        return farS;
    }

    // The advance of a counter is spread evenly over the time since its step before, so cells of one step have one power.
    private static bool IsSameStep(in EnvelopeBucket cell, double borderW) =>
        cell.CoveredS.Value <= 0 || Math.Abs(cell.MeanPowerW - borderW) <= 1e-9 * Math.Max(1e-3, Math.Abs(borderW));

    private static long Count(PowerEnvelope envelope, double fromS, double toS)
    {
        long readings = 0;
        for (int i = Math.Max(0, envelope.IndexAt(fromS)); i < envelope.Count && envelope.StartS(i) < toS; i++)
        {
            readings += envelope[i].Readings;
        }

        return readings;
    }
}
