using System.Collections.Concurrent;
using ChargeAudit.Logs;
using ChargeAudit.Logs.Sources;
using ChargeAudit.Measuring;
using ChargeAudit.Measuring.Integration;
using ChargeAudit.Measuring.Segmentation;
using ChargeAudit.Metrology;
using ChargeAudit.Studies;

namespace ChargeAudit.Comparing.Auditing;

/// <summary>
/// The measured logs of a study. A log that several runs name is read once for each stretch of it that they use. Power over time that is
/// not in use is put away, so memory grows little with the number of logs; logs are measured side by side, before they are asked for.
/// </summary>
internal sealed class StudyLogs
{
    private readonly Study _study;
    private readonly AuditOptions _options;
    private readonly Dictionary<string, MeasuredLog> _measured = new(StringComparer.Ordinal);
    private readonly ConcurrentDictionary<string, Lazy<MeasuredLog>> _known = new(StringComparer.Ordinal);
    private readonly ConcurrentDictionary<(string Method, MeasuringPoint Point), Lazy<(double PowerW, double MostW)?>> _noLoadW = new();
    private readonly CellShelf _shelf = new();
    private readonly Lock _progressLock = new();
    private readonly HashSet<string> _waiting = new(StringComparer.Ordinal);
    private readonly LogRequests _requests;
    private readonly ZeroLogs _zeros;
    private readonly int _count;
    private readonly long _bytesInAll;
    private long _bytesDone;
    private int _started;

    public StudyLogs(Study study, AuditOptions options)
    {
        _study = study;
        _options = options;
        _requests = new LogRequests(study, options);
        _zeros = new ZeroLogs(study, options.Summaries);
        _count = study.Runs.Sum(r => r.Logs.Count) + study.Standby.Sum(s => s.Logs.Count);
        _bytesInAll = study.Runs.SelectMany(r => r.Logs.Values).Concat(study.Standby.SelectMany(s => s.Logs.Values)).Sum(Bytes);
    }

    /// <summary>All logs read so far: those of the runs first, each kind in the order of reading, and zero readings
    /// last.</summary>
    public IEnumerable<MeasuredLog> All => _measured.OrderBy(m => _waiting.Contains(m.Key)).Select(m => m.Value).Concat(_zeros.All);

    private ModeOptions Modes => _study.Modes ?? _options.Modes;

    /// <summary>
    /// Begins to measure all logs, in the order in which runs ask for them, on as many threads as there are cores; what is found does not
    /// depend on it. A log that takes long has the cores for itself when its turn comes. Ends when what is returned is disposed of.
    /// </summary>
    public IDisposable MeasureAhead(CancellationToken cancellation)
    {
        // Zero readings are listed in the order in which they are first needed.
        bool inTurn = _study.Meters.Values.Any(m => m.Calibrations.Any(c => c.ZeroFiles.Count > 0));
        var logs = _study.Standby.SelectMany(s => s.Logs.Select(l => (Log: l.Value, Measure: (Action<CancellationToken>)(c =>
            Value(OfStandbyKey(s, l.Key), c)))));
        var all = logs.Concat(_study.Runs.SelectMany(r => r.Logs.OrderBy(l => l.Key).Select(l => (Log: l.Value,
            Measure: (Action<CancellationToken>)(c => Value(OfRunKey(r, l.Key, c), c))))));
        return SideBySide.Ahead(inTurn ? [] : [.. all.Where(l => !AllCores.AreTakenBy(Bytes(l.Log))).Select(l => l.Measure)], cancellation);
    }

    /// <summary>The log of a run at a point.</summary>
    public MeasuredLog OfRun(Run run, MeasuringPoint point, CancellationToken cancellation)
    {
        // Logs are listed in the order in which they are asked for.
        foreach (var standby in WaitingAt(run.Method, point))
        {
            OfStandby(standby, point, cancellation);
        }

        return Get(OfRunKey(run, point, cancellation), cancellation);
    }

    private Asked OfRunKey(Run run, MeasuringPoint point, CancellationToken cancellation)
    {
        var waiting = NoLoadW(run.Method, point, cancellation);
        return new(run.Logs[point], run.Method, point, run.From, run.To, Modes with
        {
            Purpose = LogPurpose.Charge,
            NoLoadPowerW = waiting?.PowerW ?? NothingByCable(run.Method, point),
            NoLoadMostW = waiting?.MostW ?? 0,
        });
    }

    // Behind its adapter a cable draws nothing by itself, so all that flows there is the device's.
    private double? NothingByCable(string method, MeasuringPoint point) =>
        point != MeasuringPoint.Wall && _study.Methods.Any(m => m.Name == method && m.Kind == MethodKind.Wired) ? 0 : null;

    /// <summary>A log of a charger that waits with no device.</summary>
    public MeasuredLog OfStandby(StandbyLog standby, MeasuringPoint point, CancellationToken cancellation) =>
        Get(OfStandbyKey(standby, point), cancellation);

    private Asked OfStandbyKey(StandbyLog standby, MeasuringPoint point) =>
        new(standby.Logs[point], standby.Method, point, null, null, Modes with { Purpose = LogPurpose.Standby });

    /// <summary>The same log read by the energy counter that it holds beside its power; null where it holds none.</summary>
    public MeasuredLog? CounterOf(StandbyLog standby, MeasuringPoint point, CancellationToken cancellation)
    {
        var asked = OfStandbyKey(standby, point);
        var byPower = Value(asked, cancellation).Result;
        return byPower.Layout.Has(LogQuantity.Energy) && byPower.PowerFrom != PowerRule.Describe(PowerSource.EnergyCounter)
            ? Value(asked with { Source = PowerSource.EnergyCounter }, cancellation)
            : null;
    }

    private IEnumerable<StandbyLog> WaitingAt(string method, MeasuringPoint point) =>
        _study.Standby.Where(s => s.Method == method && s.Logs.ContainsKey(point));

    // A log made for the purpose shows best what the charger takes while waiting, so a run's modes are told apart by it.
    private (double PowerW, double MostW)? NoLoadW(string method, MeasuringPoint point, CancellationToken cancellation) =>
        _noLoadW.GetOrAdd((method, point), _ => new Lazy<(double PowerW, double MostW)?>(() =>
        {
            var powers = WaitingAt(method, point)
                .Select(s => StandbyAssembler.Of(Value(OfStandbyKey(s, point), cancellation), CounterOf(s, point, cancellation)))
                .Select(waiting => waiting.Power)
                .Where(power => double.IsFinite(power.Value)).ToList();
            return powers.Count > 0 ? (powers.Average(p => p.Value), powers.Max(p => p.Interval()?.High ?? 0)) : null;
        })).Value;

    private MeasuredLog Get(Asked asked, CancellationToken cancellation)
    {
        string key = KeyOf(asked);
        if (_measured.TryGetValue(key, out var known))
        {
            return known;
        }

        var measured = Value(asked, cancellation);
        _measured.Add(key, measured);
        if (asked.Modes.Purpose == LogPurpose.Standby)
        {
            _waiting.Add(key);
        }

        return measured;
    }

    private MeasuredLog Value(Asked asked, CancellationToken cancellation) =>
        _known.GetOrAdd(KeyOf(asked), _ => new Lazy<MeasuredLog>(() => Measure(asked, cancellation))).Value;

    private MeasuredLog Measure(Asked asked, CancellationToken cancellation)
    {
        // A counter beside the power is another reading of the same log.
        var measured = LogMeasurer.Measure(Request(asked), asked.Source is null ? ProgressOf(asked.Log) : null, cancellation);
        measured.PutAway(_shelf);
        if (asked.Source is null)
        {
            Interlocked.Add(ref _bytesDone, Bytes(asked.Log));
        }

        return measured;
    }

    private ForwardProgress? ProgressOf(LogReference log)
    {
        if (_options.Progress is not { } whole)
        {
            return null;
        }

        int number = Interlocked.Increment(ref _started);
        return new ForwardProgress(bytes =>
        {
            lock (_progressLock)
            {
                whole.Report(new ReadingProgress((log.Names ?? log.Files)[0], number, _count, bytes)
                {
                    BytesReadInAll = Interlocked.Read(ref _bytesDone) + bytes,
                    BytesInAll = _bytesInAll,
                });
            }
        });
    }

    private string KeyOf(Asked asked) => string.Join('\n',
        [.. asked.Log.Files, asked.Log.Meter ?? "", MainsOf(asked.Log) ? asked.Method : "", asked.Point.ToString(), $"{asked.From}",
            $"{asked.To}", $"{asked.Modes.Purpose}", $"{asked.Modes.NoLoadPowerW}", $"{asked.Source}"]);

    // A file that is missing is reported when it is opened.
    private long Bytes(LogReference log) =>
        log.Files.Select(f => new FileInfo(Path.Combine(_study.Folder, f))).Sum(f => f.Exists ? f.Length : 0);

    // Only errors that depend on the load make the method matter, so that a log of two methods is read once where there are none.
    private bool MainsOf(LogReference log) =>
        log.Meter is { } meter && _study.Meters[meter] is { Phase.Count: > 0 } or { Limits.StartingPowerW: not null };

    private MeasureRequest Request(Asked asked)
    {
        var request = _requests.Of(asked.Log, asked.Point, asked.From, asked.To);
        return request with
        {
            Load = asked.Method,
            Modes = asked.Modes,
            Source = asked.Source,
            Meter = request.Meter is { } meter ? _zeros.In(meter) : null,
        };
    }

    // What is asked of a log.
    private sealed record Asked(LogReference Log, string Method, MeasuringPoint Point, LogTime? From, LogTime? To, ModeOptions Modes)
    {
        public PowerSource? Source { get; init; }
    }

    private sealed class ForwardProgress(Action<long> report) : IProgress<long>
    {
        public void Report(long value) => report(value);
    }
}
