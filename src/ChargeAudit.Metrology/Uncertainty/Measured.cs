namespace ChargeAudit.Metrology.Uncertainty;

/// <summary>An interval that holds the true value with a stated probability.</summary>
/// <param name="Low">Lower end, in the figure's unit.</param>
/// <param name="High">Upper end, in the figure's unit.</param>
/// <param name="Coverage">Probability, 0 to 1.</param>
/// <param name="CoverageFactor">Half-width divided by the standard uncertainty.</param>
public readonly record struct CoverageInterval(double Low, double High, double Coverage, double CoverageFactor);

/// <summary>
/// A value with its unit and its uncertainty, kept as one signed component per source. Because each component remembers its source, sums,
/// differences, products and quotients take correlation into account without further ado: what two figures share adds up or cancels.
/// Immutable; where the uncertainty cannot be known, <see cref="UnknownBecause"/> says why and no interval is given (never a zero).
/// <i>Source:</i> JCGM 100:2008, 5.1.2 and 5.2.2 (first-order propagation), G.4.1 (effective degrees of freedom).
/// </summary>
public sealed class Measured
{
    private const double FarFromZero = 4.5;

    private readonly UncertaintyComponent[] _components;
    private readonly Func<double, CoverageInterval>? _statedInterval;

    // Last interval worked out: screens and files ask for the same one several times.
    private Tuple<double, CoverageInterval>? _lastInterval;

    private Measured(
        double value, string unit, UncertaintyComponent[] components, string? unknownBecause,
            Func<double, CoverageInterval>? statedInterval = null)
    {
        _statedInterval = statedInterval;
        Value = value;
        Unit = unit;
        _components = components;
        UnknownBecause = unknownBecause;
    }

    /// <summary>The value, in <see cref="Unit"/>.</summary>
    public double Value { get; }

    /// <summary>Symbol of the unit; <c>1</c> for a pure number.</summary>
    public string Unit { get; }

    /// <summary>Components, one per source, in order of source id; those that are known even where the whole is not.</summary>
    public IReadOnlyList<UncertaintyComponent> Components => _components;

    /// <summary>Why the uncertainty is not known; null where it is known.</summary>
    public string? UnknownBecause { get; }

    /// <summary>Combined standard uncertainty in <see cref="Unit"/>; null where not known.</summary>
    public double? StandardUncertainty => UnknownBecause is null ? RootSumOfSquares(_components) : null;

    /// <summary>
    /// Effective degrees of freedom by Welch–Satterthwaite; positive infinity where no component limits them; null where not known. Sources
    /// are independent of one
    /// another by their definition, as the formula demands; those observed together count as one.
    /// </summary>
    public double? DegreesOfFreedom => StandardUncertainty is null ? null : CoverageFactor.EffectiveDegreesOfFreedom(_components);

    /// <summary>A value that is known exactly, such as a defined constant.</summary>
    public static Measured Exact(double value, string unit) => new(value, unit, [], null);

    /// <summary>A value whose uncertainty cannot be stated, with the reason.</summary>
    public static Measured Unknown(double value, string unit, string because) => new(value, unit, [], because);

    /// <summary>A value with its components; components of the same source are added with their signs.</summary>
    public static Measured From(double value, string unit, IEnumerable<UncertaintyComponent> components, string? unknownBecause = null) =>
        new(value, unit, Merge(components), unknownBecause);

    /// <summary>The same value with further components.</summary>
    public Measured Plus(params IEnumerable<UncertaintyComponent> components) =>
        new(Value, Unit, Merge(_components.Concat(components)), UnknownBecause);

    /// <summary>
    /// The same figure with an interval of its own, such as one that does not lie symmetrically. It survives a change of unit and is
    /// dropped by anything else,
    /// since a combination has another one.
    /// </summary>
    /// <param name="intervalAt">The interval at a coverage, in <see cref="Unit"/>.</param>
    public Measured WithInterval(Func<double, CoverageInterval> intervalAt) => new(Value, Unit, _components, UnknownBecause, intervalAt);

    /// <summary>The value in another unit: <paramref name="factor"/> new units make one old one.</summary>
    public Measured In(string unit, double factor) =>
        new(Value * factor, unit, Scaled(_components, factor), UnknownBecause, _statedInterval is null
            ? null
            : Rescaled(_statedInterval, factor));

    /// <summary>A first-order combination: the given value, with each operand's components times its sensitivity.</summary>
    /// <param name="value">Value of the combination.</param>
    /// <param name="unit">Its unit.</param>
    /// <param name="terms">Sensitivity (in <paramref name="unit"/> per operand's unit) and operand.</param>
    public static Measured Combine(double value, string unit, params IEnumerable<(double Sensitivity, Measured Operand)> terms)
    {
        var list = terms.ToList();
        var unknown = list.Where(t => t.Sensitivity != 0 && t.Operand.UnknownBecause is not null).Select(t => t.Operand.UnknownBecause!)
            .Distinct().ToList();
        return new Measured(
            value,
            unit,
            Merge(list.SelectMany(t => Scaled(t.Operand._components, t.Sensitivity))),
            unknown.Count == 0 ? null : string.Join("; ", unknown));
    }

    /// <summary>Sum; both must have the same unit.</summary>
    public static Measured operator +(Measured a, Measured b) => Combine(a.Value + b.Value, SameUnit(a, b), (1, a), (1, b));

    /// <summary>Difference; both must have the same unit.</summary>
    public static Measured operator -(Measured a, Measured b) => Combine(a.Value - b.Value, SameUnit(a, b), (1, a), (-1, b));

    /// <summary>Multiple by an exact number.</summary>
    public static Measured operator *(double factor, Measured m) => m.In(m.Unit, factor);

    /// <summary>Product, in the unit named.</summary>
    public static Measured Product(Measured a, Measured b, string unit, double factor = 1) =>
        Combine(factor * a.Value * b.Value, unit, (factor * b.Value, a), (factor * a.Value, b));

    /// <summary>Quotient, in the unit named.</summary>
    public static Measured Quotient(Measured a, Measured b, string unit = "1", double factor = 1)
    {
        double q = factor * a.Value / b.Value;
        return Combine(q, unit, (factor / b.Value, a), (-q / b.Value, b));
    }

    /// <summary>Covariance of two figures through the sources they share, in the product of their units; a figure's with itself is its
    /// variance.</summary>
    /// <param name="a">One figure.</param>
    /// <param name="b">The other.</param>
    public static double Covariance(Measured a, Measured b)
    {
        if (ReferenceEquals(a, b))
        {
            return a._components.Sum(c => c.Variance);
        }

        var ofB = b._components.ToDictionary(c => c.Source, c => c.SignedStandardUncertainty);
        return a._components.Sum(c => c.SignedStandardUncertainty * ofB.GetValueOrDefault(c.Source));
    }

    /// <summary>
    /// Coverage interval: symmetric about the value, or about where sources with limits that lie unevenly put its middle; its factor from
    /// the distributions of the components (Student's t where they are normal, shorter where a rectangular one
    /// dominates); or the figure's own where <see cref="WithInterval"/> gave one. Null where the uncertainty is not known.
    /// </summary>
    /// <param name="coverage">Probability, between 0 and 1. [1]</param>
    public CoverageInterval? Interval(double coverage = 0.95)
    {
        if (StandardUncertainty is not { } u)
        {
            return null;
        }

        if (_lastInterval is { } last && last.Item1 == coverage)
        {
            return last.Item2;
        }

        CoverageInterval interval;
        if (_statedInterval is not null)
        {
            interval = _statedInterval(coverage);
        }
        else
        {
            double k = CoverageFactor.Of(_components, coverage);
            double middle = Middle;
            interval = new CoverageInterval(middle - (k * u), middle + (k * u), coverage, k);
        }

        _lastInterval = Tuple.Create(coverage, interval);
        return interval;
    }

    /// <summary>
    /// Whether zero surely lies outside the interval at 95 %, as far as can be told without working the interval out. False where it may
    /// lie inside, where a scatter was estimated from few runs, and where the interval is not known or was stated.
    /// <i>Source:</i> Chebyshev's inequality: at most 1/k² of any distribution lies k standard deviations from its mean, so the factor at
    /// 95 % is at most √20 = 4.47.
    /// </summary>
    public bool IsFarFromZero => _statedInterval is null && StandardUncertainty is { } u
        && Array.TrueForAll(_components, c => c.Source.DegreesOfFreedom >= CoverageFactor.AsGoodAsKnown)
        && Math.Abs(Middle) > FarFromZero * u;

    // Where sources with limits that lie unevenly put the middle of the interval.
    private double Middle => Value + _components.Sum(c => c.SignedStandardUncertainty * c.Source.Middle);

    /// <inheritdoc/>
    public override string ToString() => MeasuredText.Of(this);

    private static string SameUnit(Measured a, Measured b) => a.Unit == b.Unit
        ? a.Unit
        : throw new ArgumentException($"cannot combine {a.Unit} with {b.Unit}", nameof(b));

    private static double RootSumOfSquares(UncertaintyComponent[] components)
    {
        double sum = 0;
        foreach (var c in components)
        {
            sum += c.Variance;
        }

        return Math.Sqrt(sum);
    }

    private static Func<double, CoverageInterval> Rescaled(Func<double, CoverageInterval> at, double factor) => coverage =>
    {
        var old = at(coverage);
        return old with { Low = Math.Min(old.Low * factor, old.High * factor), High = Math.Max(old.Low * factor, old.High * factor) };
    };

    private static UncertaintyComponent[] Scaled(UncertaintyComponent[] components, double factor) =>
        Array.ConvertAll(components, c => c with { SignedStandardUncertainty = c.SignedStandardUncertainty * factor });

    private static UncertaintyComponent[] Merge(IEnumerable<UncertaintyComponent> components)
    {
        var sums = new Dictionary<InfluenceSource, UncertaintyComponent>();
        foreach (var c in components)
        {
            sums[c.Source] = sums.TryGetValue(c.Source, out var known)
                ? known with { SignedStandardUncertainty = known.SignedStandardUncertainty + c.SignedStandardUncertainty }
                : c;
        }

        UncertaintyComponent[] merged = [.. sums.Values];
        Array.Sort(Array.ConvertAll(merged, c => c.Source.Id), merged, StringComparer.Ordinal);
        return merged;
    }
}
