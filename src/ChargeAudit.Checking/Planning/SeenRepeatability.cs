using ChargeAudit.Logs;
using ChargeAudit.Studies;

namespace ChargeAudit.Checking.Planning;

/// <summary>The scatter of a single run's energy that an audit has seen.</summary>
/// <param name="Method">Name of the method.</param>
/// <param name="Point">Where it was measured.</param>
/// <param name="Scatter">As a share of the mean. [1]</param>
/// <param name="Runs">Runs that it was seen in, at least 2. [1]</param>
/// <param name="MeanPowerW">Mean power over a charge. [W]</param>
/// <param name="DurationS">Mean length of a charge. [s]</param>
public sealed record SeenRepeatability(string Method, MeasuringPoint Point, double Scatter, int Runs, double MeanPowerW, double DurationS)
{
    /// <summary>Whether what counts as runs are blocks of runs (days, set-ups), each as large as seen.</summary>
    public bool InBlocks { get; init; }

    /// <summary>All that a design shows; those of one run show none.</summary>
    /// <param name="design">The design.</param>
    public static IReadOnlyList<SeenRepeatability> Of(MeasuredDesign design)
    {
        ArgumentNullException.ThrowIfNull(design);
        var seen = new List<SeenRepeatability>();
        foreach (var method in design.Methods)
        {
            foreach (var point in method.Points.Keys.Order())
            {
                var runs = method.Runs.Where(r => r.Points.ContainsKey(point)).ToList();
                if (DesignFigures.Of(method, point, CheckedFigure.EnergyPerCharge, "seen",
                    null).Figure is { RelativeScatter: { } scatter } figure && runs.Count > 0)
                {
                    double durationS = runs.Average(r => r.Points[point].ChargeDurationS);
                    seen.Add(
                        new SeenRepeatability(method.Name, point, scatter, figure.Runs, figure.Value.Value * 3600 / durationS, durationS)
                        {
                            InBlocks = figure.InBlocks,
                        });
                }
            }
        }

        return seen;
    }
}
