using ChargeAudit.Logs;
using ChargeAudit.Measuring;
using ChargeAudit.Measuring.Integration;
using ChargeAudit.Measuring.Segmentation;
using ChargeAudit.Metrology;
using ChargeAudit.Studies;

namespace ChargeAudit.Comparing.Auditing;

/// <summary>The measured logs of a study. A log that several runs name is read once for each stretch of it that they use.</summary>
internal sealed class StudyLogs
{
    private readonly Study _study;
    private readonly AuditOptions _options;
    private readonly Dictionary<string, MeasuredLog> _measured = new(StringComparer.Ordinal);
    private readonly Dictionary<string, MeasuredLog> _counters = new(StringComparer.Ordinal);
    private readonly HashSet<string> _waiting = new(StringComparer.Ordinal);
    private readonly LogRequests _requests;
    private readonly ZeroLogs _zeros;
    private readonly int _count;
    private readonly long _bytesInAll;
    private long _bytesDone;

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

    /// <summary>The log of a run at a point.</summary>
    public MeasuredLog OfRun(Run run, MeasuringPoint point, CancellationToken cancellation) =>
        Get(run.Logs[point], run.Method, point, run.From, run.To,
            Modes with
            {
                Purpose = LogPurpose.Charge,
                NoLoadPowerW = NoLoadW(run.Method, point, cancellation)
            ?? NothingByCable(run.Method, point)
            }, cancellation);

    // Behind its adapter a cable draws nothing by itself, so all that flows there is the device's.
    private double? NothingByCable(string method, MeasuringPoint point) =>
        point != MeasuringPoint.Wall && _study.Methods.Any(m => m.Name == method && m.Kind == MethodKind.Wired) ? 0 : null;

    /// <summary>A log of a charger that waits with no device.</summary>
    public MeasuredLog OfStandby(StandbyLog standby, MeasuringPoint point, CancellationToken cancellation) =>
        Get(standby.Logs[point], standby.Method, point, null, null, Modes with { Purpose = LogPurpose.Standby }, cancellation);

    /// <summary>The same log read by the energy counter that it holds beside its power; null where it holds none.</summary>
    public MeasuredLog? CounterOf(StandbyLog standby, MeasuringPoint point, CancellationToken cancellation)
    {
        var byPower = OfStandby(standby, point, cancellation).Result;
        if (!byPower.Layout.Has(LogQuantity.Energy) || byPower.PowerFrom == PowerRule.Describe(PowerSource.EnergyCounter))
        {
            return null;
        }

        var log = standby.Logs[point];
        string key = string.Join('\n', [.. log.Files, log.Meter ?? "", standby.Method, point.ToString()]);
        if (!_counters.TryGetValue(key, out var counter))
        {
            var request = Request(log, standby.Method, point, null, null, Modes with { Purpose = LogPurpose.Standby }) with
            {
                Source = PowerSource.EnergyCounter,
            };
            _counters.Add(key, counter = LogMeasurer.Measure(request, null, cancellation));
        }

        return counter;
    }

    // A log made for the purpose shows best what the charger takes while waiting, so a run's modes are told apart by it.
    private double? NoLoadW(string method, MeasuringPoint point, CancellationToken cancellation)
    {
        var powers = _study.Standby.Where(s => s.Method == method && s.Logs.ContainsKey(point))
            .Select(s => StandbyAssembler.Of(OfStandby(s, point, cancellation), CounterOf(s, point, cancellation)).Power.Value)
                .Where(double.IsFinite).ToList();
        return powers.Count > 0 ? powers.Average() : null;
    }

    private MeasuredLog Get(LogReference log, string method, MeasuringPoint point, LogTime? from, LogTime? to, ModeOptions modes,
        CancellationToken cancellation)
    {
        string key =
            string.Join('\n',
            [.. log.Files, log.Meter ?? "", MainsOf(log) ? method : "", point.ToString(), $"{from}", $"{to}", $"{modes.Purpose}",
                $"{modes.NoLoadPowerW}"]);
        if (_measured.TryGetValue(key, out var known))
        {
            return known;
        }

        int number = _measured.Count + 1;
        var progress = _options.Progress is { } whole
            ? new ForwardProgress(bytes => whole.Report(
                new ReadingProgress((log.Names ?? log.Files)[0], number, _count, bytes)
                {
                    BytesReadInAll = _bytesDone + bytes,
                    BytesInAll = _bytesInAll,
                }))
            : null;
        var measured = LogMeasurer.Measure(Request(log, method, point, from, to, modes), progress, cancellation);
        _measured.Add(key, measured);
        _bytesDone += Bytes(log);
        if (modes.Purpose == LogPurpose.Standby)
        {
            _waiting.Add(key);
        }

        return measured;
    }

    // A file that is missing is reported when it is opened.
    private long Bytes(LogReference log) =>
        log.Files.Select(f => new FileInfo(Path.Combine(_study.Folder, f))).Sum(f => f.Exists ? f.Length : 0);

    // Only errors that depend on the load make the method matter, so that a log of two methods is read once where there are none.
    private bool MainsOf(LogReference log) =>
        log.Meter is { } meter && _study.Meters[meter] is { Phase.Count: > 0 } or { Limits.StartingPowerW: not null };

    private MeasureRequest Request(LogReference log, string method, MeasuringPoint point, LogTime? from, LogTime? to, ModeOptions modes)
    {
        var request = _requests.Of(log, point, from, to);
        return request with { Load = method, Modes = modes, Meter = request.Meter is { } meter ? _zeros.In(meter) : null };
    }

    private sealed class ForwardProgress(Action<long> report) : IProgress<long>
    {
        public void Report(long value) => report(value);
    }
}
