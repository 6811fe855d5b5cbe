using ChargeAudit.Logs;
using ChargeAudit.Logs.Layout;
using ChargeAudit.Logs.Reading;
using ChargeAudit.Measuring.Damage;
using ChargeAudit.Measuring.Integration;
using ChargeAudit.Measuring.Summaries;
using ChargeAudit.Metrology.Diagnostics;

namespace ChargeAudit.Measuring;

/// <summary>Reads a log for a request, or takes the summary that stands for it.</summary>
public static class LogReading
{
    /// <summary>The log as reading leaves it.</summary>
    /// <param name="request">The log and what is known of it.</param>
    /// <param name="bytesRead">Told how many bytes have been read.</param>
    /// <param name="cancellation">Stops the reading.</param>
    /// <exception cref="InputException">The log cannot be used, or its summary was made of it in another way.</exception>
    public static ReadLog Of(MeasureRequest request, IProgress<long>? bytesRead = null, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(request);
        if (request.Content is null && request.Paths.FirstOrDefault(SummaryFile.IsSummary) is { } path)
        {
            return request.Paths.Count == 1 ? Taken(request, path) : throw new InputException(InputProblem.Unusable,
                $"{path} is a summary, which stands for a whole log, and files that follow one another were expected; name it alone");
        }

        return request.Summaries?.Find(request) ?? Fresh(request, bytesRead, cancellation);
    }

    /// <summary>Where the meter sat, by the request or its meter.</summary>
    internal static MeasuringPoint? PointOf(MeasureRequest request) => request.Point ?? request.Meter?.Options.Point;

    /// <summary>What the request states about the log.</summary>
    internal static LogOptions OptionsOf(MeasureRequest request)
    {
        var options = (request.Meter?.Options ?? new LogOptions()) with { Point = PointOf(request) };
        return options with { Strict = options.Strict || request.Strict, ReadFollows = true };
    }

    /// <summary>The steps of a log's readings that count for a request. [coherent unit]</summary>
    internal static LogLayout WithSteps(MeasureRequest request, LogLayout own) => ReadingSteps.NeedsOthers(own)
        ? ReadingSteps.WithOthers(own, request.LogsOfMeter?.Invoke() ?? [])
        : own;

    /// <summary>The rules by which a request sums a log.</summary>
    /// <param name="request">The request.</param>
    /// <param name="file">The log's name, for messages.</param>
    /// <param name="layout">How it was understood.</param>
    /// <param name="options">What is stated about it.</param>
    internal static SummaryRules RulesOf(MeasureRequest request, string file, LogLayout layout, LogOptions options)
    {
        var source = request.Source ?? PowerRule.Choose(file, layout, options.Point);
        CosineDoubt.Check(file, layout, source, options);
        return ZeroLimits.In(SummaryRules.For(layout, source, options), layout, request.Meter) with
        {
            FromS = LogMeasurer.SecondsOf(request.From, layout, file, "from") ?? double.NegativeInfinity,
            ToS = LogMeasurer.SecondsOf(request.To, layout, file, "to") ?? double.PositiveInfinity,
        };
    }

    private static ReadLog Taken(MeasureRequest request, string path)
    {
        var read = SummaryFile.Read(path);
        if (request.Source is { } source && !read.From!.Said.ContainsKey(LogSettings.PowerFrom))
        {
            (path, read) = SummaryByCounter.Beside(path, read, source) ?? (path, read);
        }

        return SummaryMatch.RefusalOf(LogSettings.Completed(request, read.From!.Said), read, path) is { } refusal ? throw refusal : read;
    }

    private static ReadLog Fresh(MeasureRequest request, IProgress<long>? bytesRead, CancellationToken cancellation)
    {
        var files = request.Summaries is null ? [] : SummaryFolder.StatesOf(request);
        var options = OptionsOf(request);
        string file = (request.Names ?? request.Paths)[0];
        using var log = request.Content is { } content
            ? LogFile.Open(content, request.Paths[0], options)
            : LogFile.Open(request.Paths, options);
        var layout = WithSteps(request, log.Layout);
        var rules = RulesOf(request, file, layout, options);
        var (summary, outcomes, rows) = Read(log, request, options, rules, bytesRead, cancellation);
        IReadOnlyList<MarkedStretch> doubtful = [];
        if (request.Paths.Count == 1 && SecondLook.IsNeeded(outcomes[0].Faults))
        {
            LogRefusals.CheckOrder(file, outcomes[0]);
            var look = new SecondLook.Sink(new SecondLook(rules));
            log.ReadInto(options, ref look, null, cancellation);
            doubtful = [.. look.Look.Stopped.Stretches(), .. look.Look.Repeated.Doubtful()];
            if (look.Look.Repeated.Blocks() is { Count: > 0 } blocks)
            {
                options = options with { RepeatedLines = blocks };
                (summary, outcomes, rows) = Read(log, request, options, rules, null, cancellation);
            }
        }

        MarkedStretch[] damage = [.. DamageFinder.Find(summary, layout), .. doubtful];
        if (damage.Length > 0)
        {
            (summary, outcomes, rows) = Read(log, request, options, rules with { Marked = damage }, null, cancellation);
        }
        else if (request.Source is null && CoarseReadings.YieldTo(summary))
        {
            (summary, outcomes, rows) = Read(log, request, options, rules with { Source = PowerSource.EnergyCounter }, null, cancellation);
        }

        var read = new ReadLog(log.Layout, layout.Resolution, summary.Rules.Source, summary, outcomes) { Rows = rows };
        request.Summaries?.Add(request, read, files);
        return read;
    }

    private static (LogSummary Summary, IReadOnlyList<ReadOutcome> Outcomes, KeptRows? Rows) Read(LogFile log, MeasureRequest request,
        LogOptions options, SummaryRules rules, IProgress<long>? bytesRead, CancellationToken cancellation)
    {
        bool keeps = request.KeepsRows || request.Summaries is not null;
        var sink = new IntegratingSink(keeps ? LogSummary.Builder.Keeping(rules) : new LogSummary.Builder(rules));
        var outcomes = log.ReadInto(options, ref sink, bytesRead, cancellation);
        return (sink.Summary.Finish(), outcomes, sink.Summary.Rows is { AreTooMany: false } kept ? kept : null);
    }
}
