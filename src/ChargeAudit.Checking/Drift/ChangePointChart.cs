using ChargeAudit.Metrology.Statistics;

namespace ChargeAudit.Checking.Drift;

/// <summary>One measurement for a change-point chart.</summary>
/// <param name="Value">Logarithm of the figure, so that a shift is a share. [1]</param>
/// <param name="Runs">Runs that it is the mean of. [1]</param>
/// <param name="Scatter">Standard deviation of a single run seen in them, as a share. [1]</param>
public readonly record struct ChartMeasurement(double Value, double Runs, double Scatter);

/// <summary>What the chart shows after a measurement.</summary>
/// <param name="Score">The greatest statistic over all change points, as the normal deviate of the same probability, not below zero.
/// [1]</param>
/// <param name="Before">Measurements before the change point that it belongs to: the likeliest one. [1]</param>
/// <param name="Shift">Mean of the measurements after it less that of those before. [1]</param>
/// <param name="ShiftStandardUncertainty">Standard uncertainty of that by the scatter of the runs. [1]</param>
public readonly record struct ChartState(double Score, int Before, double Shift, double ShiftStandardUncertainty);

/// <summary>
/// Looks for an upward step at an unknown time in a series whose level is unknown too: for each possible change point the mean after it is
/// compared with the mean before, and the greatest of these likelihood ratios counts. No level has to be learned first, and a step never
/// fades into the mean, as the earlier measurements stay on their side of it. The scatter of a run is pooled over all measurements so far,
/// so the statistic is Student's. <i>Source:</i> D. M. Hawkins, P. Qiu and C. W. Kang, Journal of Quality Technology 35 (2003) 355–366,
/// one-sided and with the scatter from within.
/// </summary>
public static class ChangePointChart
{
    /// <summary>What the chart shows after the last of some measurements.</summary>
    /// <param name="measurements">Measurements in order of time, each of two runs or more.</param>
    public static ChartState After(ReadOnlySpan<ChartMeasurement> measurements)
    {
        double squares = 0, dof = 0, runs = 0, sum = 0;
        foreach (var m in measurements)
        {
            squares += (m.Runs - 1) * m.Scatter * m.Scatter;
            dof += m.Runs - 1;
            runs += m.Runs;
            sum += m.Runs * m.Value;
        }

        double scatter = Math.Sqrt(squares / dof), greatest = double.NegativeInfinity, head = 0, headRuns = 0;
        var best = new ChartState(0, 0, 0, 0);
        for (int k = 0; k < measurements.Length - 1; k++)
        {
            head += measurements[k].Runs * measurements[k].Value;
            headRuns += measurements[k].Runs;
            double shift = ((sum - head) / (runs - headRuns)) - (head / headRuns);
            double u = scatter * Math.Sqrt((1 / headRuns) + (1 / (runs - headRuns)));
            if (shift / u > greatest)
            {
                greatest = shift / u;
                best = new ChartState(0, k + 1, shift, u);
            }
        }

        return greatest > 0 ? best with { Score = NormalScore(greatest, dof) } : best;
    }

    // The scatter is itself estimated, so the statistic is Student's; its normal score has the same probability.
    private static double NormalScore(double t, double dof) =>
        StudentDistribution.Quantile(1 - Math.Clamp(StudentDistribution.UpperTail(t, dof), 1e-15, 0.5), double.PositiveInfinity);
}
