using System.Runtime.InteropServices;
using ChargeAudit.Metrology.Statistics;
using MathNet.Numerics;
using MathNet.Numerics.Distributions;

namespace ChargeAudit.Metrology.Uncertainty;

/// <summary>An error that lies between two limits, symmetric about zero.</summary>
/// <param name="Shape">Rectangular, triangular or arcsine.</param>
/// <param name="StandardUncertainty">Its standard deviation.</param>
internal readonly record struct BoundedError(ErrorShape Shape, double StandardUncertainty)
{
    /// <summary>The limit.</summary>
    internal double HalfWidth => StandardUncertainty * Shape switch
    {
        ErrorShape.Triangular => Math.Sqrt(6),
        ErrorShape.Arcsine => Math.Sqrt(2),
        _ => Math.Sqrt(3),
    };
}

/// <summary>
/// Distribution of the sum of bounded errors, a normal one and a scaled Student's t, all centred and independent, on half a grid (the sum
/// is symmetric).
/// Deterministic; a few milliseconds at most. A triangular error is the sum of two rectangular ones; folding in a rectangular one is a
/// moving average of
/// the distribution function.
/// </summary>
internal sealed class ErrorConvolution
{
    // Student's t costs an integral per point and is smooth; limits alone have corners and cost nothing.
    private const int CellsWithStudent = 800;
    private const int CellsWithout = 2000;
    private const int Panels = 40;
    private const int ArcsineNodes = 24;

    // A bounded error this small in the whole cannot be told from a normal one in the result.
    private const double SmallShare = 0.005;

    // In standard deviations; and the same limit as an argument of the complementary error function, which is 2 to the last bit below minus
    // this.
    private const double Certain = 8.5;
    private const double CertainArgument = 6;

    // Several figures of a log share all their errors, such as a mode, its session and the run that is made of it. A slot holds what was
    // worked out last of those that fall on it.
    private const int Slots = 1 << 12;
    private static readonly Known?[] Worked = new Known?[Slots];

    private readonly List<BoundedError> _bounded;
    private readonly double _normal;
    private readonly double _studentScale;
    private readonly double _studentDof;
    private (double Weight, double Ratio, double Scale)[] _scatter = [];

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
        _scatter = _studentScale > 0
            ? Array.ConvertAll(Scatter(_studentDof), n => (n.Weight, n.Ratio, ScaleAt(n.Ratio)))
            : [];
        double tail = 0.5 * (1 + coverage);
        bool smooth = _normal > 0 || _studentScale > 0;
        double reach = (_normal * StudentDistribution.Quantile(tail, double.PositiveInfinity))
            + (_studentScale > 0 ? _studentScale * StudentDistribution.Quantile(tail, _studentDof) : 0);
        if (_bounded.Count == 0)
        {
            return _studentScale == 0 ? reach : Root(tail, reach);
        }

        // Beyond reach + limits lies less than the tail; each fold spoils the edge of the grid by one half-width.
        double limits = _bounded.Sum(b => b.HalfWidth);
        double inner = (reach * 1.05) + limits;
        int cells = _studentScale > 0 ? CellsWithStudent : CellsWithout;
        double step = (inner + limits) / cells;
        var grid = new double[cells + 1];
        var folds = smooth ? _bounded : _bounded.Skip(1);
        for (int i = 0; i <= cells; i++)
        {
            grid[i] = smooth ? Smooth(i * step) : Bounded(_bounded[0], i * step);
        }

        BoundedError[] left = [.. folds];
        bool lastInPlace = left is [.., { Shape: ErrorShape.Rectangular }];
        foreach (var error in lastInPlace ? left[..^1] : left)
        {
            grid = error.Shape switch
            {
                ErrorShape.Triangular => Average(Average(grid, step, 0.5 * error.HalfWidth), step, 0.5 * error.HalfWidth),
                ErrorShape.Arcsine => AverageOverSine(grid, step, error.HalfWidth),
                _ => Average(grid, step, error.HalfWidth),
            };
        }

        // The last average is needed only where it passes the tail.
        var last = lastInPlace ? new MovingAverage(grid, step, left[^1].HalfWidth) : null;
        double At(int i) => last?.At(i) ?? grid[i];
        int at = FirstAbove(tail, grid.Length, At);
        if (at <= 0)
        {
            return at == 0 ? 0 : inner;
        }

        double below = At(at - 1);
        double into = (tail - below) / (At(at) - below);
        return (at - 1 + into) * step;
    }

    // A distribution function rises: the first of its values that is not below a level; −1 where all are below.
    private static int FirstAbove(double level, int count, Func<int, double> value)
    {
        int low = 0, high = count;
        while (low < high)
        {
            int middle = (low + high) / 2;
            (low, high) = value(middle) >= level ? (low, middle) : (middle + 1, high);
        }

        return low < count ? low : -1;
    }

    private static double Bounded(BoundedError error, double x)
    {
        double share = Math.Min(1, x / error.HalfWidth);
        return error.Shape switch
        {
            ErrorShape.Triangular => 1 - (0.5 * (1 - share) * (1 - share)),
            ErrorShape.Arcsine => 0.5 + (Math.Asin(share) / Math.PI),
            _ => 0.5 + (0.5 * share),
        };
    }

    private double Root(double tail, double high)
    {
        double low = 0;
        for (int i = 0; i < 40; i++)
        {
            double middle = 0.5 * (low + high);
            (low, high) = Smooth(middle) < tail ? (middle, high) : (low, middle);
        }

        return 0.5 * (low + high);
    }

    // Student's t is a normal variable whose standard deviation is itself spread out, so the normal part joins it without another integral.
    private double Smooth(double x)
    {
        if (_studentScale == 0)
        {
            // From there on the distribution function is one in double precision: of a normal error 7e-17 lie further out.
            return x > Certain * _normal ? 1 : Normal.CDF(0, _normal, x);
        }

        double sum = 0;
        foreach (var (weight, ratio, scale) in _scatter)
        {
            double argument = -x * ratio / scale * Constants.Sqrt1Over2;
            sum += weight * (argument < -CertainArgument ? 2 : SpecialFunctions.Erfc(argument));
        }

        return 0.5 * sum;
    }

    private double ScaleAt(double ratio) => Math.Sqrt((_normal * _normal * ratio * ratio) + (_studentScale * _studentScale));

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

    private static double[] Average(double[] f, double step, double halfWidth)
    {
        var average = new MovingAverage(f, step, halfWidth);
        var averaged = new double[f.Length];
        for (int i = 0; i < f.Length; i++)
        {
            averaged[i] = average.At(i);
        }

        return averaged;
    }

    // Moving average over ±a of a distribution function that is symmetric about zero: with C(x) = ∫₀ˣF, C(−x) = C(x) − x.
    private sealed class MovingAverage
    {
        private readonly double[] _f;
        private readonly double[] _integral;
        private readonly double _step;
        private readonly double _halfWidth;

        public MovingAverage(double[] f, double step, double halfWidth)
        {
            (_f, _step, _halfWidth) = (f, step, halfWidth);
            _integral = new double[f.Length];
            for (int i = 1; i < f.Length; i++)
            {
                _integral[i] = _integral[i - 1] + (0.5 * step * (f[i] + f[i - 1]));
            }
        }

        /// <summary>The average about a point of the grid.</summary>
        public double At(int i) =>
            (Integral((i * _step) + _halfWidth) - Integral((i * _step) - _halfWidth)) / (2 * _halfWidth);

        private double Integral(double x)
        {
            double y = Math.Abs(x);
            int i = Math.Min((int)(y / _step), _f.Length - 2);
            double into = y - (i * _step);
            double whole = i == _f.Length - 2 && into > _step
                ? _integral[^1] + (into - _step)
                : _integral[i] + (into * (_f[i] + (0.5 * into / _step * (_f[i + 1] - _f[i]))));
            return x < 0 ? whole - y : whole;
        }
    }

    private static double[] AverageOverSine(double[] f, double step, double halfWidth)
    {
        double At(double x)
        {
            double y = Math.Abs(x) / step;
            int i = Math.Min((int)y, f.Length - 2);
            double value = Math.Min(1, f[i] + ((y - i) * (f[i + 1] - f[i])));
            return x < 0 ? 1 - value : value;
        }

        var averaged = new double[f.Length];
        for (int i = 0; i < f.Length; i++)
        {
            double sum = 0;
            for (int j = 0; j < ArcsineNodes; j++)
            {
                sum += At((i * step) - (halfWidth * Math.Cos(Math.PI * (j + 0.5) / ArcsineNodes)));
            }

            averaged[i] = sum / ArcsineNodes;
        }

        return averaged;
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
