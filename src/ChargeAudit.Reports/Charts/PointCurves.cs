using ChargeAudit.Comparing.Results;
using ChargeAudit.Comparing.Runs;
using ChargeAudit.Logs;

namespace ChargeAudit.Reports.Charts;

/// <summary>
/// The curves of the runs at one point, for both charts over time and both of their forms: all are taken from a log at once, since in a
/// study of many logs it has to be unpacked for that.
/// </summary>
internal sealed class PointCurves
{
    private static readonly ChartSize[] Sizes = [ChartSize.Wide, ChartSize.Narrow];

    private readonly Dictionary<(RunPointResult Run, int Points), IReadOnlyList<PowerCurve>> _power = new(ByReference.Instance);
    private readonly Dictionary<(RunPointResult Run, int Points), EnergyCurve> _energy = new(ByReference.Instance);

    private PointCurves(IReadOnlyList<RunsAtPoint> methods)
    {
        Methods = methods;
        var (fromS, toS) = PowerChart.Window(methods);
        foreach (var method in methods)
        {
            Take(method.Middle.Seen, fromS, toS, share: 1);
            foreach (var run in method.Lines)
            {
                Take(run, fromS, toS, share: 2);
            }
        }
    }

    /// <summary>The methods with a run that counts there.</summary>
    public IReadOnlyList<RunsAtPoint> Methods { get; }

    /// <summary>The curves at a point where at least one run that counts was measured.</summary>
    /// <param name="result">The results.</param>
    /// <param name="point">The point.</param>
    public static PointCurves Of(AuditResult result, MeasuringPoint point) => new(RunsAtPoint.Of(result, point));

    /// <summary>Power of a run over the chart's window.</summary>
    public IReadOnlyList<PowerCurve> Power(RunPointResult run, ChartSize size) => _power[(run, size.Points)];

    /// <summary>Energy of a run from the start of its charge.</summary>
    public EnergyCurve Energy(RunPointResult run, ChartSize size) => _energy[(run, size.Points)];

    // A thin line has half the points of the strong one.
    private void Take(RunPointResult run, double fromS, double toS, int share)
    {
        double zeroS = run.Charge.StartS;
        foreach (var size in Sizes)
        {
            _power[(run, size.Points)] = PowerCurve.Of(run.Log.Envelope, zeroS, zeroS + fromS, zeroS + toS, size.Points / share);
            _energy[(run, size.Points)] = EnergyCurve.Of(run, toS, size.Points / share / 2);
        }
    }

    // Two runs with equal results are two.
    private sealed class ByReference : IEqualityComparer<(RunPointResult Run, int Points)>
    {
        public static ByReference Instance { get; } = new();

        public bool Equals((RunPointResult Run, int Points) x, (RunPointResult Run, int Points) y) =>
            ReferenceEquals(x.Run, y.Run) && x.Points == y.Points;

        public int GetHashCode((RunPointResult Run, int Points) key) =>
            HashCode.Combine(System.Runtime.CompilerServices.RuntimeHelpers.GetHashCode(key.Run), key.Points);
    }
}
