using ChargeAudit.Measuring.Integration;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Statistics;

namespace ChargeAudit.Measuring.Alignment;

/// <summary>
/// Finds how the clocks of two logs of one run differ, from the steps of power that both show: correlation of the steps at
/// every offset first, then least squares of P = a + b·P_other(t) for offset and drift. Refuses where more than one offset fits. Pure.
/// </summary>
public static class ClockAligner
{
    private const int MostCells = 1 << 15;

    /// <summary>A step shorter than this is a pulse, and pulses look alike. [s]</summary>
    private const double WindowS = 16;

    /// <summary>Least correlation of the power steps: with a lower one, logs of different runs may be matched. [1]</summary>
    private const double LeastCorrelation = 0.5;

    /// <summary>Greatest correlation at another offset, as a share of the best: with a higher one, a train of equal pulses may be matched
    /// at the wrong pulse. [1]</summary>
    private const double LargestNextBest = 0.85;

    /// <summary>Least part of the shorter log that must overlap. [1]</summary>
    private const double LeastOverlap = 0.5;

    /// <summary>Aligns a log with a reference.</summary>
    /// <param name="reference">The log whose clock counts.</param>
    /// <param name="other">The log to be aligned.</param>
    public static AlignmentFinding Find(PowerEnvelope reference, PowerEnvelope other)
    {
        if (reference.Count == 0 || other.Count == 0)
        {
            return Refuse("one of the two logs is empty");
        }

        var (coarseA, coarseB) = (reference.Reduced(MostCells), other.Reduced(MostCells));
        double grid = Math.Max(coarseA.BucketWidthS, coarseB.BucketWidthS);
        int window = Math.Max(2, (int)Math.Round(WindowS / grid));
        var a = StepSeries.Of(coarseA, grid, window);
        var b = StepSeries.Of(coarseB, grid, window);
        int overlap = Math.Max(2 * window, (int)(LeastOverlap * Math.Min(a.Steps.Length, b.Steps.Length)));
        if (overlap >= Math.Min(a.Steps.Length, b.Steps.Length))
        {
            return Refuse("the logs are too short to compare their steps");
        }

        var (lag, best, next) = StepCorrelation.Best(a.Steps, b.Steps, overlap, 2 * window);
        if (!(best >= LeastCorrelation))
        {
            return Refuse(
                Prose.Of(
                    $"the two logs do not share their steps of power (correlation {Math.Max(0, best):F2} at best), so they may be of "
                + $"different runs"));
        }

        if (next > LargestNextBest * best)
        {
            return Refuse(
                Prose.Of(
                    $"several offsets fit about equally well (correlation {best:F2} and {next:F2}), as with pulses that repeat; include "
                + $"the start or the end of a charge in both logs"));
        }

        return new AlignmentFinding(Refine(a, b, (lag * grid) + a.OriginS - b.OriginS, window, best, next), null);
    }

    private static ClockAlignment Refine(StepSeries a, StepSeries b, double offset, int window, double best, double next)
    {
        var cells = StepCells(a, b, offset, window, out double steps, out double spreadS);
        bool drifts = steps >= 1.5 && spreadS >= 300;
        double middle = cells.Average(i => TimeOf(a, i));
        double drift = 0;
        double offsetU = double.NaN;
        double driftU = double.NaN;
        for (int pass = 0; pass < 12; pass++)
        {
            var fit = Fit(a, b, cells, offset, drift, middle, drifts, out double inflation);
            if (fit is null)
            {
                break;
            }

            double slope = fit.Coefficients[1];
            double change = fit.Coefficients[2] / slope;
            double bend = drifts ? fit.Coefficients[3] / slope : 0;

            // A correction beyond the window means that the linear step left the place where it holds.
            offset -= Math.Clamp(change, -WindowS, WindowS);
            drift -= Math.Clamp(bend, -1e-3, 1e-3);
            offsetU = fit.StandardError(2) / Math.Abs(slope) * inflation;
            driftU = drifts ? fit.StandardError(3) / Math.Abs(slope) * inflation : double.NaN;
            if (Math.Abs(change) < 1e-4 * a.GridS && Math.Abs(bend) < 1e-9)
            {
                break;
            }
        }

        // A step between two readings of a log lies anywhere between them; each further step averages that out.
        double sampling = Math.Sqrt(((a.IntervalS * a.IntervalS) + (b.IntervalS * b.IntervalS)) / 12 / Math.Max(1, steps));
        double u = Math.Sqrt((double.IsNaN(offsetU) ? 0 : offsetU * offsetU) + (sampling * sampling));
        double samplingDrift = sampling / Math.Max(1, spreadS);

        // Within the fit the drift turns about the middle; the result counts from the other log's first sample.
        double atZero = offset - (drift * (middle - offset));
        return new ClockAlignment(
            atZero, u, drifts ? 1e6 * drift : null, drifts
                ? 1e6 * Math.Sqrt((driftU * driftU) + (samplingDrift * samplingDrift))
                : null, best, next);
    }

    /// <summary>
    /// Cells around the greatest steps, which alone tell the offset; how many steps of equal size they are worth, and how far apart they
    /// lie (weighted root mean square). Least squares weighs a step by its square, so a few large ones count for nearly all.
    /// </summary>
    private static List<int> StepCells(StepSeries a, StepSeries b, double offset, int window, out double steps, out double spreadS)
    {
        double greatest = a.Steps.Max(Math.Abs);
        var taken = new SortedSet<int>();
        var centres = new List<int>();
        foreach (int i in Enumerable.Range(0, a.Steps.Length).OrderByDescending(i => Math.Abs(a.Steps[i])))
        {
            if (Math.Abs(a.Steps[i]) < 0.04 * greatest || centres.Count >= 60)
            {
                break;
            }

            if (centres.TrueForAll(c => Math.Abs(c - i) > 2 * window) && b.Covers(TimeOf(a, i) - offset))
            {
                centres.Add(i);
                for (int k = Math.Max(0, i - (2 * window)); k < Math.Min(a.PowerW.Length, i + (2 * window)); k++)
                {
                    taken.Add(k);
                }
            }
        }

        var weights = centres.ConvertAll(c => a.Steps[c] * a.Steps[c]);
        double sum = Math.Max(double.Epsilon, weights.Sum());
        double mean = centres.Zip(weights).Sum(p => p.First * p.Second) / sum;
        steps = sum * sum / Math.Max(double.Epsilon, weights.Sum(w => w * w));
        spreadS = a.GridS * Math.Sqrt(centres.Zip(weights).Sum(p => (p.First - mean) * (p.First - mean) * p.Second) / sum);
        return [.. taken];
    }

    private static LeastSquaresFit? Fit(
        StepSeries a, StepSeries b, List<int> cells, double offset, double drift, double middle, bool drifts, out double inflation)
    {
        var power = new double[cells.Count];
        var slope = new double[cells.Count];
        var slopeTime = new double[cells.Count];
        var target = new double[cells.Count];
        double half = 0.5 * b.GridS;
        for (int k = 0; k < cells.Count; k++)
        {
            double t = TimeOf(a, cells[k]);
            double there = t - offset - (drift * (t - middle));
            power[k] = b.At(there);
            slope[k] = (b.At(there + half) - b.At(there - half)) / b.GridS;
            slopeTime[k] = slope[k] * (t - middle);
            target[k] = a.PowerW[cells[k]];
        }

        inflation = 1;
        try
        {
            var fit = LeastSquaresFit.Columns(drifts ? [power, slope, slopeTime] : [power, slope], target);
            var residual = new double[cells.Count];
            for (int k = 0; k < cells.Count; k++)
            {
                residual[k] = target[k] - (drifts ? fit.At(power[k], slope[k], slopeTime[k]).Value : fit.At(power[k], slope[k]).Value);
            }

            inflation = Autocorrelation.InflationFactor(Math.Min(0.95, Autocorrelation.Lag1(residual)));
            return fit;
        }
        catch (ArgumentException)
        {
            // The columns do not tell the offset any further than the correlation did.
            return null;
        }
    }

    private static double TimeOf(StepSeries a, int index) => a.OriginS + ((index + 0.5) * a.GridS);

    private static AlignmentFinding Refuse(string because) => new(null, because);
}
