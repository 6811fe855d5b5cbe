using BenchmarkDotNet.Attributes;
using BenchmarkDotNet.Running;
using ChargeAudit.Logs;
using ChargeAudit.Logs.Reading;
using ChargeAudit.Measuring.Integration;

namespace ChargeAudit.Benchmarks.Reading;

/// <summary><c>loops</c>: the loops that every row goes through, each by itself, with the memory they take.</summary>
public static class HotLoops
{
    /// <summary>Hands over to BenchmarkDotNet; its own options may follow.</summary>
    public static int Run(string[] arguments)
    {
        BenchmarkSwitcher.FromTypes([typeof(ReadingLoop), typeof(SummaryLoop)]).Run(arguments.Length > 0 ? arguments : ["--filter", "*"]);
        return 0;
    }
}

/// <summary>Reading rows from a file in the system's cache and summing them: on one core row by row, on several in pieces and column by
/// column.</summary>
[MemoryDiagnoser]
public class ReadingLoop
{
    private const int Rows = 1_000_000;
    private readonly string _folder = Directory.CreateTempSubdirectory("chargeaudit-loops-").FullName;
    private string _path = "";
    private LogOptions _options = new();
    private LogFile? _log;

    [Params(TimeWriting.ElapsedSeconds, TimeWriting.Iso8601)]
    public TimeWriting Writing { get; set; }

    [Params(1, 2)]
    public int Cores { get; set; }

    [GlobalSetup]
    public void Setup()
    {
        _path = Path.Combine(_folder, "log.csv");
        ChargeFile.Write(_path, Rows, Writing);
        _options = new LogOptions { Parallel = Cores > 1 };
        _log = LogFile.Open(_path, _options);
    }

    [GlobalCleanup]
    public void Cleanup()
    {
        _log!.Dispose();
        Directory.Delete(_folder, recursive: true);
    }

    [Benchmark(OperationsPerInvoke = Rows)]
    public double ReadAndSum()
    {
        var sink = new IntegratingSink(new LogSummary.Builder(SummaryRules.For(_log!.Layout, PowerSource.DirectCurrentProduct, _options)));
        _log.ReadInto(ref sink);
        return sink.Summary.Finish().EnergyJ.Value;
    }
}

/// <summary>Summing samples that are in memory already, one by one.</summary>
[MemoryDiagnoser]
public class SummaryLoop
{
    private const int Rows = 1_000_000;
    private readonly Sample[] _samples = new Sample[Rows];

    /// <summary>Interval between rows: the width of an envelope cell against it decides how often the cell changes. [s]</summary>
    [Params(0.001, 1)]
    public double IntervalS { get; set; }

    [GlobalSetup]
    public void Setup()
    {
        var random = new Random(7);
        for (int i = 0; i < Rows; i++)
        {
            _samples[i] = Sample.Empty(i * IntervalS, i + 2) with
            {
                VoltageV = 5 + (0.01 * random.NextDouble()),
                CurrentA = 1 + (0.02 * random.NextDouble()),
            };
        }
    }

    [Benchmark(OperationsPerInvoke = Rows)]
    public double Add()
    {
        var summary = new LogSummary.Builder(new SummaryRules
        {
            Source = PowerSource.DirectCurrentProduct,
            Samples = SampleKind.Instantaneous,
            MedianIntervalS = IntervalS,
            GapThresholdS = 2 + (5 * IntervalS),
        });
        foreach (ref readonly Sample sample in _samples.AsSpan())
        {
            summary.Add(in sample);
        }

        return summary.Finish().EnergyJ.Value;
    }
}
