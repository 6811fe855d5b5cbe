using ChargeAudit.Measuring.Integration;
using ChargeAudit.Metrology;

namespace ChargeAudit.Measuring;

/// <summary>
/// What the steps of readings leave open in a mean. A reading that dwells in a step is wrong by the same amount for as long as it dwells,
/// however many rows repeat it. Where noise or the load's course leads it across many steps, the error of rounding runs through all values
/// between minus and plus half a step and averages out; where readings are cut down, each is too low by half a step on average, and that
/// stays. Which of the two a meter does is not known.
/// </summary>
/// <remarks>
/// Rounding across steps: the error of the mean falls as exp(−2π²σ²/q²) with the scatter σ, which at 0.8 of a step q is below one part in
/// 10⁵. <i>Source:</i> B. Widrow and I. Kollár, Quantization Noise (2008), chapters 4 and 5 (from memory).
/// </remarks>
internal static class StepError
{
    // Sixteen readings with a scatter of 0.8 of a step span about three steps.
    private const int Window = 16;
    private const double DitheredSteps = 3;

    /// <summary>
    /// Standard uncertainty of a mean by the steps of its readings, in steps: the root mean square of half a step, by which cut-down
    /// readings are too low, and of what stays of an error that is equally likely anywhere in the step. 1/2 where that averages out, 1/√3
    /// where it stays. [1]
    /// </summary>
    /// <param name="staying">Share that does not average out, 0 to 1. [1]</param>
    public static double Standard(double staying) => Math.Sqrt(0.25 + (staying * staying / 12));

    /// <summary>
    /// The share of a step's error that stays in the mean over a stretch: nothing where readings span three steps within sixteen rows; else
    /// the root of the sum of squares of the shares of time spent in each step, which is 1 where one step holds all of it.
    /// </summary>
    /// <param name="envelope">The log over time.</param>
    /// <param name="fromS">Start. [s]</param>
    /// <param name="toS">End. [s]</param>
    /// <param name="step">Step of the readings. [coherent unit]</param>
    /// <param name="quantity">Which readings: voltage, current, or else power.</param>
    public static double StayingShare(PowerEnvelope envelope, double fromS, double toS, double step, LogQuantity quantity)
    {
        var timeIn = new Dictionary<double, double>();
        var spans = new List<double>();
        double total = 0, least = double.PositiveInfinity, most = double.NegativeInfinity;
        int inWindow = 0;
        for (int i = 0; i < envelope.Count; i++)
        {
            ref readonly var cell = ref envelope[i];
            double covered = cell.CoveredS.Value;
            if (envelope.StartS(i) < fromS || envelope.StartS(i + 1) > toS || covered <= 0 || cell.BridgedS.Value > 0)
            {
                continue;
            }

            double mean = quantity switch
            {
                LogQuantity.Voltage => cell.VoltSeconds.Value / covered,
                LogQuantity.Current => cell.ChargeC.Value / covered,
                _ => cell.MeanPowerW,
            };
            double level = Math.Round(mean / step);
            timeIn[level] = timeIn.GetValueOrDefault(level) + covered;
            total += covered;
            bool known = quantity is not (LogQuantity.Voltage or LogQuantity.Current) && cell.Readings > 0;
            least = Math.Min(least, known ? cell.MinPowerW : mean);
            most = Math.Max(most, known ? cell.MaxPowerW : mean);
            if (++inWindow == Window)
            {
                spans.Add(most - least);
                (inWindow, least, most) = (0, double.PositiveInfinity, double.NegativeInfinity);
            }
        }

        if (total == 0)
        {
            return 1;
        }

        spans.Sort();
        bool dithers = spans.Count > 0 && spans[spans.Count / 2] >= (DitheredSteps - 0.01) * step;
        return dithers ? 0 : Math.Sqrt(timeIn.Values.Sum(t => t * t)) / total;
    }
}
