using ChargeAudit.Comparing.Auditing.Doubts;
using ChargeAudit.Comparing.Fairness;
using ChargeAudit.Comparing.Methods;
using ChargeAudit.Comparing.Placement;
using ChargeAudit.Comparing.Results;
using ChargeAudit.Comparing.Yearly;
using ChargeAudit.Logs.Sources;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Studies;

namespace ChargeAudit.Comparing.Auditing;

/// <summary>The main job: from a study to the whole answer.</summary>
public static class Auditor
{
    /// <summary>Runs an audit.</summary>
    /// <param name="study">What is compared.</param>
    /// <param name="options">What else is needed.</param>
    /// <param name="cancellation">Stops it.</param>
    /// <exception cref="InputException">A log or the study cannot be used.</exception>
    public static AuditResult Run(Study study, AuditOptions options, CancellationToken cancellation = default)
    {
        var year = StudyYear.Of(study);
        var logs = new StudyLogs(study, options);
        using var ahead = logs.MeasureAhead(cancellation);
        var runs = study.Runs.Select(r => (Run: r, Result: RunAssembler.Of(r, logs, cancellation))).ToList();
        var ordered = study.Methods.OrderBy(m => m.Name == study.Reference ? 0 : 1);
        MethodResult Assemble(Method method, Adapter? fitted) =>
            MethodAssembler.Of(study, method, [.. runs.Where(r => r.Run.Method == method.Name).Select(r => r.Result)], logs, year, fitted,
                cancellation);
        var measured = ordered.Select(m => Assemble(m, null)).ToList();

        // A method that was not measured at the wall may have its figures there derived from an adapter that other methods were measured
        // with.
        var methods = measured
            .Select(m => AdapterFitter.For(measured, m) is { } fitted ? Assemble(study.Methods.First(s => s.Name == m.Name), fitted) : m)
            .ToList();
        var reference = methods[0];
        var endRules = new EndRules(study, logs, cancellation);
        var adapters = new AdapterCurves(study, logs, DateOnly.FromDateTime(options.Clock.GetLocalNow().DateTime), cancellation);
        var fits = methods.Select(adapters.Of).ToList();
        List<AdapterCurveResult> curves = [.. fits.SelectMany(f => f.Curves)];
        List<ComparisonResult> comparisons = [.. methods.Skip(1).SelectMany(m => ComparisonAssembler.Of(reference, m, endRules))];
        var waiting = study.Standby.SelectMany(s => s.Logs.Keys.Select(p => (s.Method, Log: logs.OfStandby(s, p, cancellation).Result)))
            .ToList();
        var doubts = StudyDoubts.Of(study.Tariff, methods, comparisons, waiting);
        if (options.Strict)
        {
            StudyDoubts.Refuse(doubts);
        }

        return new AuditResult
        {
            Study = study,
            Assumptions = options.Assumptions,
            Methods = methods,
            Logs = [.. logs.All.Select(l => l.Result)],
            Corrections = [.. methods.SelectMany(m =>
                CorrectionsAssembler.Of(m, waiting.Where(w => w.Method == m.Name).Select(w => w.Log)))],
            Stages = [.. methods.SelectMany(StageAssembler.Of)],
            Losses = [.. methods.SelectMany(m => LossAssembler.Of(study, m))],
            AdapterCurves = curves,
            NoAdapterCurve = [.. fits.SelectMany(f => f.WhyNone)],
            Comparisons = comparisons,
            Doubts = doubts,
            Fairness = FairnessNotes.Judge(methods),
            Years = YearsAssembler.Differences(methods),
            Paybacks = YearsAssembler.Paybacks(study, methods),
            Yardsticks = YearsAssembler.Yardsticks(study, methods, curves, options.Clock),
            Procedure = options.Procedure == PublishedProcedure.UsAppendixY
                ? [.. ordered.Select(m => ProcedureAssembler.Of(study, m, logs, cancellation))]
                : null,
            Placement = PlacementFinder.Of(study.Placement, methods),
            Provenance = new Provenance(
                options.ProgramVersion, options.StudyFile, options.StudySha256 ?? HashOf(options.StudyFile), options.Clock.GetLocalNow(),
                options.CommandLine)
            {
                Drafted = options.Drafted,
                PassedOver = options.PassedOver,
            },
        };
    }

    private static string? HashOf(string? studyFile) => studyFile is null ? null : FileHash.Sha256(studyFile);
}
