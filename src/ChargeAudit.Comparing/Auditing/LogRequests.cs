using ChargeAudit.Logs;
using ChargeAudit.Logs.Layout;
using ChargeAudit.Measuring;
using ChargeAudit.Studies;

namespace ChargeAudit.Comparing.Auditing;

/// <summary>What a study says about its logs, as far as it decides how they are read.</summary>
/// <param name="study">The study.</param>
/// <param name="options">The audit's other options.</param>
internal sealed class LogRequests(Study study, AuditOptions options)
{
    private readonly MeterLogs _meterLogs = new(study, options.Summaries);
    private readonly Lock _lock = new();

    /// <summary>The request to read a log.</summary>
    /// <param name="log">The log.</param>
    /// <param name="point">Where the meter sat.</param>
    /// <param name="from">Only what follows this; null: from the start.</param>
    /// <param name="to">Only what precedes this; null: to the end.</param>
    public MeasureRequest Of(LogReference log, MeasuringPoint point, LogTime? from, LogTime? to) => new()
    {
        Paths = [.. log.Files.Select(f => Path.Combine(study.Folder, f))],
        Names = log.Names ?? log.Files,
        Meter = log.Meter is { } meter ? study.Meters[meter] : null,
        Point = point,
        Strict = options.Strict,
        From = from,
        To = to,
        LogsOfMeter = log.Meter is { } name ? () => LogsOf(name) : null,
        Summaries = options.Summaries,
    };

    private IReadOnlyList<LogLayout> LogsOf(string meter)
    {
        lock (_lock)
        {
            return _meterLogs.Of(meter);
        }
    }
}
