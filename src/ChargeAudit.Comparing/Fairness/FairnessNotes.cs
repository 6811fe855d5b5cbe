using ChargeAudit.Comparing.Methods;
using ChargeAudit.Comparing.Runs;
using ChargeAudit.Logs;
using ChargeAudit.Studies;

namespace ChargeAudit.Comparing.Fairness;

/// <summary>Looks for reasons why the runs of a study may not be comparable. Pure; each judgement has a file of its own.</summary>
internal static class FairnessNotes
{
    private static readonly IFairnessRule[] Rules =
    [
        new StartChargeRule(),
        new EndChargeRule(),
        new CutShortRule(),
        new HoldRule(),
        new MaintenanceLengthRule(),
        new DifferentMeterRule(),
        new DifferentAdapterRule(),
        new OutputVoltageRule(),
        new TemperatureRule(),
        new TooFewRunsRule(),
        new BlocksRule(),
        new SettingsRule(),
        new RunDriftRule(),
        new BackgroundLoadRule(),
        new FlowBackRule(),
        new CoarseSamplingRule(),
        new ExcludedRunsRule(),
    ];

    /// <summary>All notes, the gravest first.</summary>
    /// <param name="methods">The methods of a study, the reference first.</param>
    public static IReadOnlyList<FairnessNote> Judge(IReadOnlyList<MethodResult> methods)
    {
        var input = new FairnessInput(methods);
        return [.. Rules.SelectMany(r => r.Judge(input)).OrderBy(n => n.Gravity)];
    }

    /// <summary>A measuring point in a sentence.</summary>
    internal static string At(MeasuringPoint point) => PlainWords.At(point);

    internal static IReadOnlyList<string> Ids(params IEnumerable<RunResult>[] runs) => [.. runs.SelectMany(r => r).Select(r => r.Id)];
}
