using ChargeAudit.Comparing.Results;
using ChargeAudit.Comparing.Runs;
using ChargeAudit.Logs;
using ChargeAudit.Metrology;

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

    private PointCurves(IReadOnlyList<RunsAtPoint> methods, CancellationToken cancellation)
    {
        Methods = methods;
        var (fromS, toS) = PowerChart.Window(methods);
        // A thin line has half the points of the strong one.
        List<(RunPointResult Run, int Share)> lines =
            [.. methods.SelectMany(m => m.Lines.Select(run => (run, 2)).Prepend((m.Middle.Seen, 1)))];
        var curves = SideBySide.Of(lines.Count,
            i => Sizes.Select(s => Of(lines[i].Run, fromS, toS, s.Points / lines[i].Share)).ToList(), cancellation);
        for (int i = 0; i < lines.Count; i++)
        {
            foreach (var ((power, energy), size) in curves[i].Zip(Sizes))
            {
                _power[(lines[i].Run, size.Points)] = power;
                _energy[(lines[i].Run, size.Points)] = energy;
            }
        }
    }

    /// <summary>The methods with a run that counts there.</summary>
    public IReadOnlyList<RunsAtPoint> Methods { get; }

    /// <summary>The curves at a point where at least one run that counts was measured.</summary>
    /// <param name="result">The results.</param>
    /// <param name="point">The point.</param>
    /// <param name="cancellation">Stops between two runs.</param>
    public static PointCurves Of(AuditResult result, MeasuringPoint point, CancellationToken cancellation) =>
        new(RunsAtPoint.Of(result, point), cancellation);

    /// <summary>Power of a run over the chart's window.</summary>
    public IReadOnlyList<PowerCurve> Power(RunPointResult run, ChartSize size) => _power[(run, size.Points)];

    /// <summary>Energy of a run from the start of its charge.</summary>
    public EnergyCurve Energy(RunPointResult run, ChartSize size) => _energy[(run, size.Points)];

    private static (IReadOnlyList<PowerCurve> Power, EnergyCurve Energy) Of(RunPointResult run, double fromS, double toS, int points)
    {
        double zeroS = run.Charge.StartS;
        return (PowerCurve.Of(run.Log.Envelope, zeroS, zeroS + fromS, zeroS + toS, points), EnergyCurve.Of(run, toS, points / 2));
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
