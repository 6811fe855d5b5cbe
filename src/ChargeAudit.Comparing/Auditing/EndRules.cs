using ChargeAudit.Comparing.Methods;
using ChargeAudit.Comparing.Results;
using ChargeAudit.Comparing.Runs;
using ChargeAudit.Logs;
using ChargeAudit.Measuring.Integration;
using ChargeAudit.Measuring.Segmentation;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Uncertainty;
using ChargeAudit.Studies;

namespace ChargeAudit.Comparing.Auditing;

/// <summary>
/// What the overhead ratio would be if the charges were ended by other rules. Where the rules that do not depend on the way of charging
/// disagree, the end of the charge is not as sure as its border looks, and their spread belongs to the ratio's uncertainty.
/// </summary>
internal sealed class EndRules
{
    private readonly Dictionary<string, Run> _runs;
    private readonly StudyLogs _logs;
    private readonly CancellationToken _cancellation;

    public EndRules(Study study, StudyLogs logs, CancellationToken cancellation)
    {
        _runs = study.Runs.ToDictionary(r => r.Id, StringComparer.Ordinal);
        _logs = logs;
        _cancellation = cancellation;
    }

    /// <summary>The ratio by each rule; none where the device itself said when it was full, or where the point was not measured.</summary>
    public IReadOnlyList<EndRuleRatio> Of(MethodResult reference, MethodResult method, MeasuringPoint point)
    {
        var below = Runs(reference, point);
        var above = Runs(method, point);
        if (below.Count == 0 || above.Count == 0 || below.Concat(above).Any(r => _runs[r.Id].FullAt is not null))
        {
            return [];
        }

        // The share above the floor means the same state of the battery only if both are ended at the same power into it, so the runs are
        // taken in pairs.
        var charges = Enumerable.Range(0, Math.Max(below.Count, above.Count))
            .Select(i => (Reference: Charge(below[i % below.Count], point), Method: Charge(above[i % above.Count], point))).ToList();
        var pairs = SideBySide.Of(charges.Count, i => EndOfCharge.FindAlike(charges[i].Reference, charges[i].Method), _cancellation);
        return [.. Enum.GetValues<EndRule>().Select(rule => Ratio(rule, pairs))];
    }

    /// <summary>The component of the energy's uncertainty that stands for the spread of the ratio over the rules that do not depend on the
    /// way of charging; none where these agree, or one of them gives no ratio.</summary>
    public static IEnumerable<UncertaintyComponent> Spread(IReadOnlyList<EndRuleRatio> rules, Measured energy, string method,
        MeasuringPoint point)
    {
        double? flat = rules.FirstOrDefault(r => r.Rule == EndRule.ChangePoint)?.Ratio;
        double? share = rules.FirstOrDefault(r => r.Rule == EndRule.ShareAboveFloor)?.Ratio;
        if (flat is { } a && share is { } b && a > 0 && a != b)
        {
            double halfWidth = 0.5 * Math.Abs(a - b) / a * energy.Value;
            yield return new UncertaintyComponent(
                InfluenceSource.OfMethod(method, SourceKind.Edge, $"{StudyWords.Of(point)}-end-rule", ErrorShape.Rectangular), halfWidth
                    / Math.Sqrt(3));
        }
    }

    private static List<RunResult> Runs(MethodResult method, MeasuringPoint point) =>
        [.. method.Runs.Where(r => r.Excluded is null && r.Points.ContainsKey(point))];

    private (PowerEnvelope Envelope, ModeFinding Finding, ModeSpan Charge) Charge(RunResult run, MeasuringPoint point)
    {
        var log = _logs.OfRun(_runs[run.Id], point, _cancellation);
        return (log.Result.Envelope, log.Finding, run.Points[point].Charge);
    }

    private static EndRuleRatio Ratio(EndRule rule, (ChargeEnds Reference, ChargeEnds Method)[] pairs)
    {
        var missing = pairs.SelectMany(p => new[] { p.Reference.By(rule), p.Method.By(rule) }).FirstOrDefault(e => e.EndS is null);
        return missing is null
            ? new EndRuleRatio(rule, pairs.Average(p => p.Method.By(rule).EnergyJ) / pairs.Average(p => p.Reference.By(rule).EnergyJ), null)
            : new EndRuleRatio(rule, null, missing.WhyNot);
    }
}
