using ChargeAudit.Comparing.Procedures;
using ChargeAudit.Comparing.Results;
using ChargeAudit.Logs;
using ChargeAudit.Measuring;
using ChargeAudit.Studies;

namespace ChargeAudit.Comparing.Auditing;

/// <summary>The US procedure for each method, from the logs at the wall: the adapter belongs to the charger that is tested.</summary>
internal static class ProcedureAssembler
{
    public static MethodProcedure Of(Study study, Method method, StudyLogs logs, CancellationToken cancellation)
    {
        var waiting = study.Standby
            .Where(s => s.Method == method.Name && s.Logs.ContainsKey(MeasuringPoint.Wall))
            .Select(s => logs.OfStandby(s, MeasuringPoint.Wall, cancellation))
            .MaxBy(l => l.Result.DurationS);
        var charges = study.Runs
            .Where(r => r.Method == method.Name && r.Exclude is null && r.Logs.ContainsKey(MeasuringPoint.Wall))
            .Select(r => (Run: r, Log: logs.OfRun(r, MeasuringPoint.Wall, cancellation)))
            .OrderByDescending(c => c.Log.Result.DurationS)
            .ToList();
        var tests = charges.Select(c => TestOf(study, method, c.Run, c.Log, waiting)).ToList();
        var whole = tests.Where(t => t.Result.Test.E24.Value is not null).OrderBy(t => t.Run, StringComparer.Ordinal).ToList();
        var shown = whole.Count > 0 ? whole : [tests.Count > 0 ? tests[0] : TestOf(study, method, null, null, waiting)];
        var found = shown.Select(t => t.Result.Uec.Value?.Value).OfType<double>().ToList();
        return new MethodProcedure(method.Name, shown, found.Count > 0 ? RepresentedValue.Of(found) : null);
    }

    private static ProcedureTest TestOf(Study study, Method method, Run? run, MeasuredLog? log, MeasuredLog? waiting)
    {
        double? fullAtS = run?.FullAt is { } full && log is not null
            ? LogMeasurer.SecondsOf(full, log.Result.Layout, log.Result.Files[0], "full-at")
            : null;
        var input = UsAppendixYInput.From(method, study.Device, log, fullAtS, waiting);
        if (run?.Session is { } session)
        {
            input = input with
            {
                Test = WithoutTest(
                    $"run {run.Id} is charge {session} of a log that holds several; the test is of one charge: cut the log with "
                    + "from and to"),
            };
        }

        return new ProcedureTest(run?.Id, log?.Result.Files[0], waiting?.Result.Files[0], UsAppendixY.Of(input));
    }

    private static ChargeAndMaintenanceTest WithoutTest(string why) => ChargeAndMaintenanceTest.None("one-charge", why);
}
