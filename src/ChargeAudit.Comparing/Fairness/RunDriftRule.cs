using ChargeAudit.Logs;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Statistics;
using MathNet.Numerics.Distributions;
using static ChargeAudit.Comparing.Fairness.FairnessNotes;

namespace ChargeAudit.Comparing.Fairness;

/// <summary>
/// Energies that rise or fall from run to run: a battery that ages, a room that warms up, a meter that drifts. Id <c>run-drift</c>. Judged
/// from four runs on by the slope of a straight line, and from eight on also by the trend test of Mann and Kendall.
/// </summary>
internal sealed class RunDriftRule : IFairnessRule
{
    private const double Level = 0.05;

    public IEnumerable<FairnessNote> Judge(FairnessInput input)
    {
        foreach (var (method, runs) in input.Counted)
        {
            foreach (var point in Enum.GetValues<MeasuringPoint>())
            {
                var measured = runs.Where(r => r.Points.ContainsKey(point)).OrderBy(r => r.Start ?? DateTimeOffset.MinValue).ToList();
                double[] energies = [.. measured.Select(r => r.Points[point].Energy.Value)];
                if (energies.Length >= 4 && Slope(energies) is var (slope, p) && p < Level)
                {
                    yield return new FairnessNote(
                        "run-drift",
                        Prose.Of($"The energy of {method.Name} {At(point)} {(slope > 0 ? "rises" : "falls")} by "
                            + $"{100 * Math.Abs(slope) / energies.Average():F1} % from run to run (chance of that without a trend: "
                            + $"{100 * p:G2} %). Take the methods in turn, so that a drift affects both."),
                        Ids(measured));
                }
            }
        }
    }

    private static (double Slope, double P) Slope(double[] energies)
    {
        double[] place = [.. Enumerable.Range(0, energies.Length).Select(i => (double)i)];
        var fit = LeastSquaresFit.Line(place, energies);
        double t = Math.Abs(fit.Slope) / fit.StandardError(1);
        double p = fit.StandardError(1) > 0 ? 2 * StudentT.CDF(0, 1, fit.DegreesOfFreedom, -t) : fit.Slope == 0 ? 1 : 0;
        return (fit.Slope, energies.Length >= 8 ? Math.Min(p, MannKendall.Of(energies).TwoSidedP) : p);
    }
}
