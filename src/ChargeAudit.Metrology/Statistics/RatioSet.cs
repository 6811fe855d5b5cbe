namespace ChargeAudit.Metrology.Statistics;

/// <summary>
/// The set of ratios that the data do not contradict. Where the denominator cannot be told from zero it is not an interval, and must not be
/// printed as one.
/// Closed: one of <see cref="Bounded"/>, <see cref="Exclusive"/>, <see cref="WholeLine"/>.
/// </summary>
public abstract record RatioSet
{
    private RatioSet(double ratio, double g)
    {
        Ratio = ratio;
        G = g;
    }

    /// <summary>Ratio of the two estimates. [1]</summary>
    public double Ratio { get; }

    /// <summary>Squared relative half-width of the denominator: below 1 the set is bounded. [1]</summary>
    public double G { get; }

    /// <summary>An interval.</summary>
    public sealed record Bounded : RatioSet
    {
        internal Bounded(double ratio, double g, double low, double high)
            : base(ratio, g)
        {
            Low = low;
            High = high;
        }

        /// <summary>Lower end. [1]</summary>
        public double Low { get; }

        /// <summary>Upper end. [1]</summary>
        public double High { get; }
    }

    /// <summary>All ratios but those between two: the denominator may be zero.</summary>
    public sealed record Exclusive : RatioSet
    {
        internal Exclusive(double ratio, double g, double below, double above)
            : base(ratio, g)
        {
            UpTo = below;
            From = above;
        }

        /// <summary>The set holds everything up to here; negative infinity: nothing on this side. [1]</summary>
        public double UpTo { get; }

        /// <summary>The set holds everything from here on; positive infinity: nothing on this side. [1]</summary>
        public double From { get; }
    }

    /// <summary>Every ratio: the data say nothing about it.</summary>
    public sealed record WholeLine : RatioSet
    {
        internal WholeLine(double ratio, double g)
            : base(ratio, g)
        {
        }
    }
}
