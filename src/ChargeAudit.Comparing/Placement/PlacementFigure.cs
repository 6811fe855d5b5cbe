using ChargeAudit.Comparing.Runs;
using ChargeAudit.Logs;
using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.Comparing.Placement;

/// <summary>
/// What is compared between positions: the efficiency from one measuring point to another where both were measured, else the energy per
/// charge at the input alone.
/// </summary>
/// <param name="From">The input: where the energy goes in.</param>
/// <param name="To">The output; null where only the input was measured.</param>
public sealed record PlacementFigure(MeasuringPoint From, MeasuringPoint? To)
{
    private static readonly MeasuringPoint[] Inputs = [MeasuringPoint.Usb, MeasuringPoint.Wall];
    private static readonly MeasuringPoint[] Outputs = [MeasuringPoint.Device, MeasuringPoint.Battery];

    /// <summary>Unit of <see cref="Shown"/> and <see cref="Taken"/>.</summary>
    public string Unit => To is null ? "Wh" : "1";

    /// <summary>The figure that a map shows of a run: efficiency, or energy per charge.</summary>
    /// <param name="run">A run that was measured at both points.</param>
    public Measured Shown(RunResult run) =>
        To is { } to ? Measured.Quotient(run.Points[to].Energy, run.Points[From].Energy) : run.Points[From].Energy;

    /// <summary>What a run took: energy in per energy delivered, or energy per charge. The less, the better.</summary>
    /// <param name="run">A run that was measured at both points.</param>
    public Measured Taken(RunResult run) =>
        To is { } to ? Measured.Quotient(run.Points[From].Energy, run.Points[to].Energy) : run.Points[From].Energy;

    /// <summary>Whether a run was measured where this figure needs it.</summary>
    /// <param name="run">The run.</param>
    public bool IsOf(RunResult run) =>
        run.Points.ContainsKey(From) && (To is not { } to || (run.Points.ContainsKey(to) && run.Points[to].Energy.Value > 0))
            && run.Points[From].Energy.Value > 0;

    /// <summary>
    /// The figure for some runs: the input nearest the pad that most of them have, and an output where all those have one. Null where no
    /// input was measured.
    /// </summary>
    /// <param name="runs">The runs.</param>
    public static PlacementFigure? Of(IReadOnlyList<RunResult> runs)
    {
        var from = Inputs.Select(p => (Point: p, Count: runs.Count(r => r.Points.ContainsKey(p)))).OrderByDescending(c => c.Count).First();
        if (from.Count == 0)
        {
            return null;
        }

        var measured = runs.Where(r => r.Points.ContainsKey(from.Point)).ToList();
        var both = Outputs.Where(p => measured.TrueForAll(new PlacementFigure(from.Point, p).IsOf)).ToList();
        return new PlacementFigure(from.Point, both.Count > 0 ? both[0] : null);
    }
}
