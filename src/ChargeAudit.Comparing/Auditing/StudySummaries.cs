using ChargeAudit.Logs.Layout;
using ChargeAudit.Measuring;
using ChargeAudit.Measuring.Integration;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Studies;

namespace ChargeAudit.Comparing.Auditing;

/// <summary>What an audit of a study will ask of its logs, so that they can be summarized before, one by one and anywhere.</summary>
public static class StudySummaries
{
    /// <summary>The readings that an audit asks for, each once.</summary>
    /// <param name="study">The study.</param>
    /// <param name="options">The audit's other options, with the folder of summaries.</param>
    public static IReadOnlyList<MeasureRequest> Requests(Study study, AuditOptions options)
    {
        ArgumentNullException.ThrowIfNull(study);
        ArgumentNullException.ThrowIfNull(options);
        var requests = new LogRequests(study, options);
        var runs = study.Runs.SelectMany(r => r.Logs.Select(l => requests.Of(l.Value, l.Key, r.From, r.To)));
        var waiting = study.Standby.SelectMany(s => s.Logs.Select(l => requests.Of(l.Value, l.Key, null, null)));
        var zeros = study.Meters.Values.SelectMany(m => m.Calibrations.Where(c => c.ZeroFiles.Count > 0)
            .Select(c => ZeroLogs.Request(study, m, c, options.Summaries)));
        return [.. runs.Concat(waiting).Concat(zeros).DistinctBy(r =>
            string.Join('\n', [.. r.Paths, r.Meter?.Name ?? "", $"{r.Point}", $"{r.From}", $"{r.To}"]))];
    }

    /// <summary>Summarizes a log for a study; where an audit will also read it by its counter, that reading too.</summary>
    /// <param name="study">The study.</param>
    /// <param name="request">One of its requests.</param>
    /// <param name="summarize">Summarizes a log as a request asks, and tells how it was understood and where its power comes from.</param>
    /// <exception cref="InputException">The log cannot be used.</exception>
    public static void Summarize(Study study, MeasureRequest request,
        Func<MeasureRequest, (LogLayout Layout, PowerSource Source)> summarize)
    {
        ArgumentNullException.ThrowIfNull(study);
        ArgumentNullException.ThrowIfNull(request);
        ArgumentNullException.ThrowIfNull(summarize);
        var (layout, source) = summarize(request);
        bool waits = study.Standby.Any(s => s.Logs.Any(l => l.Key == request.Point
            && request.Paths.SequenceEqual(l.Value.Files.Select(f => Path.Combine(study.Folder, f)))));
        if (waits && request is { From: null, To: null } && layout.Has(LogQuantity.Energy) && source != PowerSource.EnergyCounter)
        {
            summarize(request with { Source = PowerSource.EnergyCounter });
        }
    }
}
