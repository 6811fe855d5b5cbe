using ChargeAudit.Comparing.Methods;
using ChargeAudit.Comparing.Placement;
using ChargeAudit.Comparing.Runs;
using ChargeAudit.Comparing.Yearly;
using ChargeAudit.Logs;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Uncertainty;
using ChargeAudit.Studies;

namespace ChargeAudit.Tests.Comparing.Placement;

/// <summary>Invented runs of one method whose true energy is a formula of where the device lies.</summary>
internal sealed class PlacedRuns(string method, MethodKind kind = MethodKind.Inductive)
{
    private readonly List<RunResult> _runs = [];

    public static (double X, double Y)[] Cross { get; } = [(0, 0), (4, 0), (-4, 0), (0, 4), (0, -4), (8, 0), (-8, 0), (0, 8), (0, -8)];

    public MethodResult Result => new()
    {
        Name = method,
        Kind = kind,
        Runs = _runs,
        Points = new Dictionary<MeasuringPoint, PointResult>(),
        Yearly = new YearResult(Figure.None("not asked"), Figure.None("not asked"), []),
    };

    /// <summary>A run with what went in and, where given, what came out.</summary>
    public PlacedRuns Add(double inWh, double? outWh = null, string? box = null, string? excluded = null,
        params (Factor Factor, double Value)[] factors)
    {
        string id = InvariantText.Of($"{method}-{_runs.Count + 1}");
        var points = new Dictionary<MeasuringPoint, RunPointResult> { [MeasuringPoint.Usb] = At(id, "bench", inWh) };
        if (outWh is { } delivered)
        {
            points.Add(MeasuringPoint.Device, At(id, "probe", delivered));
        }

        _runs.Add(new RunResult
        {
            Id = id,
            Excluded = excluded,
            Points = points,
            Factors = new RunFactors(factors.ToDictionary(f => f.Factor, f => f.Value), box),
        });
        return this;
    }

    /// <summary>Runs at positions, each with an energy of its place and, where given, a relative scatter.</summary>
    public PlacedRuns At(IEnumerable<(double X, double Y)> places, Func<double, double, double> inWh, Func<double>? scatter = null,
        double? outWh = null)
    {
        foreach (var (x, y) in places)
        {
            Add(inWh(x, y) * (1 + (scatter?.Invoke() ?? 0)), outWh, null, null, (Factor.OffsetX, x), (Factor.OffsetY, y));
        }

        return this;
    }

    /// <summary>What is found of several methods, the first the reference.</summary>
    public static PlacementResult? Find(double rise, params PlacedRuns[] methods) =>
        PlacementFinder.Of(new PlacementRules { Rise = rise }, [.. methods.Select(m => m.Result)]);

    // A meter whose gain is known to 0.2 % and which adds noise of 0.01 % of its own to each run.
    private static RunPointResult At(string id, string meter, double energyWh) => new(null!, meter, default!, Measured.From(
        energyWh, "Wh",
        [
            new UncertaintyComponent(new InfluenceSource($"meter:{meter}/power-gain", Shared: true), 0.002 * energyWh),
            new UncertaintyComponent(new InfluenceSource($"log:{id}-{meter}/noise"), 0.0001 * energyWh),
        ]), Figure.None("not logged"));
}
