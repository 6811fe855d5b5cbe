using System.Runtime.InteropServices;
using ChargeAudit.Metrology.Statistics;
using MathNet.Numerics.RootFinding;

namespace ChargeAudit.Metrology.Uncertainty;

/// <summary>
/// Distribution of the sum of bounded errors, a normal one and a scaled Student's t, all centred and independent. Deterministic; a tenth of a
/// millisecond at most. What is folded together multiplies in the characteristic function, and a <see cref="FourierDistribution"/> comes back
/// from it.
/// </summary>
internal sealed class ErrorConvolution
{
    private const int Panels = 40;

    // A bounded error this small in the whole cannot be told from a normal one in the result.
    private const double SmallShare = 0.005;

    // Of a root, in the unit of the standard deviations, which come to one together.
    private const double Accuracy = 1e-10;

    // A share of the estimates that changes nothing in the result.
    private const double Negligible = 1e-14;

    // Several figures of a log share all their errors, such as a mode, its session and the run that is made of it. A slot holds what was
    // worked out last of those that fall on it.
    private const int Slots = 1 << 12;
    private static readonly Known?[] Worked = new Known?[Slots];

    private readonly List<BoundedError> _bounded;
    private readonly double _normal;
    private readonly double _studentScale;
    private readonly double _studentDof;

    internal ErrorConvolution(IEnumerable<BoundedError> bounded, double normal, double studentScale, double studentDof)
    {
        var all = bounded.ToList();
        double total = all.Sum(b => b.StandardUncertainty * b.StandardUncertainty) + (normal * normal) + (studentScale * studentScale);
        _bounded = [.. all.Where(b => b.StandardUncertainty * b.StandardUncertainty >= SmallShare * total)
            .OrderByDescending(b => b.HalfWidth)];
        double small = all.Sum(b => b.StandardUncertainty * b.StandardUncertainty)
            - _bounded.Sum(b => b.StandardUncertainty * b.StandardUncertainty);
        _normal = Math.Sqrt((normal * normal) + Math.Max(0, small));
        _studentScale = studentScale;
        _studentDof = studentDof;
    }

    /// <summary>Half-width of the symmetric interval, in the unit of the standard deviations given.</summary>
    internal double Factor(double coverage)
    {
        var hash = new HashCode();
        _bounded.ForEach(hash.Add);
        ref var slot = ref Worked[HashCode.Combine(hash.ToHashCode(), _normal, _studentScale, _studentDof, coverage) & (Slots - 1)];
        if (Volatile.Read(ref slot) is { } known && known.Is(this, coverage))
        {
            return known.Factor;
        }

        double factor = WorkedOut(coverage);
        Volatile.Write(ref slot, new Known([.. _bounded], _normal, _studentScale, _studentDof, coverage, factor));
        return factor;
    }

    private double WorkedOut(double coverage)
    {
        double tail = 0.5 * (1 + coverage);
        double reach = (_normal * StudentDistribution.Quantile(tail, double.PositiveInfinity))
            + (_studentScale > 0 ? _studentScale * StudentDistribution.Quantile(tail, _studentDof) : 0);
        if (_studentScale == 0 && (_bounded.Count == 0 || (_bounded.Count == 1 && _normal == 0)))
        {
            return _bounded.Count == 0 ? reach : _bounded[0].HalfWidthHolding(coverage);
        }

        // Beyond reach + limits lies less than the tail.
        double most = (reach * 1.05) + _bounded.Sum(b => b.HalfWidth);
        var parts = Parts(most);
        double Missing(double x) => parts.Sum(p => p.Weight * p.Distribution.FromZeroTo(x)) - (0.5 * coverage);
        return Missing(most) <= 0 ? most : Brent.FindRoot(Missing, 0, most, Accuracy);
    }

    // Student's t is a normal variable whose standard deviation is itself spread out, so the normal part joins it without another integral.
    private List<(double Weight, FourierDistribution Distribution)> Parts(double most)
    {
        if (_studentScale == 0)
        {
            return [(1, new FourierDistribution(_bounded, _normal, most))];
        }

        // Where the estimate is nothing the error has no bounds, and half of it lies above any value.
        return [.. Scatter(_studentDof).Where(n => n.Ratio > 0 && n.Weight > Negligible)
            .Select(n => (n.Weight, new FourierDistribution(_bounded, double.Hypot(_normal, _studentScale / n.Ratio), most)))];
    }

    // Nodes and weights for the ratio of the estimated to the true standard deviation: chi divided by √ν.
    private static (double Weight, double Ratio)[] Scatter(double dof)
    {
        double spread = Math.Sqrt(0.5 / dof);
        double low = Math.Max(0, 1 - (8 * spread)), high = 1 + (8 * spread);
        double step = (high - low) / Panels;
        var nodes = new (double Weight, double Ratio)[Panels + 1];
        double total = 0;
        for (int i = 0; i <= Panels; i++)
        {
            double r = low + (i * step);
            // Relative to its value at 1, so that many degrees of freedom do not overflow.
            double density = r > 0
                ? Math.Exp(((dof - 1) * Math.Log(r)) - (0.5 * dof * ((r * r) - 1)))
                : dof == 1 ? Math.Exp(0.5) : 0;
            double weight = density * (i is 0 or Panels ? 1 : i % 2 == 1 ? 4 : 2);
            nodes[i] = (weight, r);
            total += weight;
        }

        return Array.ConvertAll(nodes, n => (n.Weight / total, n.Ratio));
    }

    private sealed record Known(
        BoundedError[] Bounded, double Normal, double StudentScale, double StudentDof, double Coverage, double Factor)
    {
        // The same to the last bit: what is nearly the same has another factor.
        public bool Is(ErrorConvolution other, double coverage) => Coverage == coverage && Normal == other._normal
            && StudentScale == other._studentScale && StudentDof == other._studentDof && Bounded.AsSpan().SequenceEqual(
                CollectionsMarshal.AsSpan(other._bounded));
    }
}
