using ChargeAudit.Logs;
using ChargeAudit.Measuring.Integration;

namespace ChargeAudit.Measuring;

/// <summary>
/// What multiplying an averaged voltage by an averaged current can hide. Where the current comes in pulses the mean of the product is not
/// the product of the means: with a source of resistance R the voltage sags as the current rises, and the product of the means is too high
/// by R times the variance of the current inside an interval. The log cannot show that variance; it is bounded by pulses between nothing
/// and the greatest current seen. R is the slope of voltage against current over the log. <i>Source:</i> the identity
/// mean(VI) = mean(V)·mean(I) + cov(V, I), and the Bhatia–Davis bound on a variance, var ≤ (max − mean)(mean − min).
/// </summary>
internal static class PulsedProduct
{
    /// <summary>Standard uncertainty of the energy between two times; zero where readings are not averages, or power is not a product.
    /// [J]</summary>
    public static double StandardJ(LogSummary summary, double fromS, double toS)
    {
        bool averaged = summary.Rules.Samples is SampleKind.AverageEnding or SampleKind.AverageStarting;
        if (!averaged || summary.Rules.Source != PowerSource.DirectCurrentProduct)
        {
            return 0;
        }

        var cells = Cells(summary.Envelope);
        double ohm = SourceOhm(cells);
        double greatestA = cells.Count > 0 ? cells.Max(c => c.CurrentA) : 0;
        double bound = cells.Where(c => c.StartS >= fromS && c.StartS < toS)
            .Sum(c => ohm * Math.Max(0, c.CurrentA) * (greatestA - c.CurrentA) * c.CoveredS);

        // Anything from none of it to all of it.
        return bound / Math.Sqrt(3);
    }

    private static List<(double StartS, double CoveredS, double VoltageV, double CurrentA)> Cells(PowerEnvelope envelope)
    {
        var cells = new List<(double, double, double, double)>(envelope.Count);
        for (int i = 0; i < envelope.Count; i++)
        {
            ref readonly var cell = ref envelope[i];
            double covered = cell.CoveredS.Value;
            if (covered > 0 && cell.BridgedS.Value == 0)
            {
                cells.Add((envelope.StartS(i), covered, cell.VoltSeconds.Value / covered, cell.ChargeC.Value / covered));
            }
        }

        return cells;
    }

    // A source whose voltage does not fall under load, or a log without load changes, shows no resistance.
    private static double SourceOhm(List<(double StartS, double CoveredS, double VoltageV, double CurrentA)> cells)
    {
        if (cells.Count < 3)
        {
            return 0;
        }

        double meanV = cells.Average(c => c.VoltageV);
        double meanA = cells.Average(c => c.CurrentA);
        double variance = cells.Sum(c => (c.CurrentA - meanA) * (c.CurrentA - meanA));
        double covariance = cells.Sum(c => (c.CurrentA - meanA) * (c.VoltageV - meanV));
        return variance > 0 ? Math.Max(0, -covariance / variance) : 0;
    }
}
