using ChargeAudit.Metrology.Statistics;
using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.Checking;

/// <summary>
/// How many further runs would settle a figure with a probability of <see cref="Power"/>, if the true ratio is the one found: by the
/// noncentral t, with what the meters do to the ratio left as it is.
/// <i>Source:</i> N. L. Johnson and B. L. Welch, Biometrika 31 (1940) 362–389 (noncentral t).
/// </summary>
internal static class FurtherRuns
{
    /// <summary>Probability with which the runs named settle it. [1]</summary>
    public const double Power = 0.8;

    /// <summary>More runs than this nobody makes. [1]</summary>
    public const int MostRuns = 1000;

    /// <summary>The answer for a pair of figures.</summary>
    /// <param name="candidate">Candidate's figure, its scatter as a component with finite degrees of freedom.</param>
    /// <param name="baseline">Baseline's figure, likewise.</param>
    /// <param name="limit">One plus the margin. [1]</param>
    /// <param name="alpha">Level of the test. [1]</param>
    public static Settling For(RunsFigure candidate, RunsFigure baseline, double limit, double alpha)
    {
        var design = new Design(candidate, baseline, limit, alpha);
        if (design.PowerWith(double.PositiveInfinity, double.PositiveInfinity) < Power)
        {
            return new Settling(null, null, design.MeterVariance > 0
                ? "No number of runs can settle it: the uncertainty of the meter dominates; a better meter, or a wider margin, can."
                : "No number of runs can settle it: the ratio lies on the margin.");
        }

        if (Least(candidate.Runs + 1, n => design.PowerWith(n, baseline.Runs)) is { } own)
        {
            int more = own - candidate.Runs;
            return new Settling(more, 0, FormattableString.Invariant(
                $"{more} further {Word(more)} of the candidate would settle it with a probability of {Power:0.##}, if the ratio is as found."));
        }

        if (Least(2, n => design.PowerWith(Math.Max(n, candidate.Runs), Math.Max(n, baseline.Runs))) is { } each)
        {
            int moreCandidate = Math.Max(0, each - candidate.Runs), moreBaseline = Math.Max(0, each - baseline.Runs);
            return new Settling(moreCandidate, moreBaseline, FormattableString.Invariant(
                $"{moreCandidate} further {Word(moreCandidate)} of the candidate and {moreBaseline} of the baseline would settle it with a probability of {Power:0.##}, if the ratio is as found; runs of the candidate alone cannot, as the baseline's own scatter stands in the way."));
        }

        return new Settling(null, null, FormattableString.Invariant(
            $"Not even {MostRuns} runs of each would settle it: the ratio lies too close to the margin, or the meter's uncertainty leaves too little room."));
    }

    private static string Word(int runs) => runs == 1 ? "run" : "runs";

    private static int? Least(int from, Func<int, double> power)
    {
        if (power(MostRuns) < Power)
        {
            return null;
        }

        int low = from - 1, high = MostRuns;
        while (high - low > 1)
        {
            int middle = low + ((high - low) / 2);
            (low, high) = power(middle) < Power ? (middle, high) : (low, middle);
        }

        return high;
    }

    private sealed class Design
    {
        private readonly double _candidateVariance;
        private readonly double _baselineVariance;
        private readonly double _difference;
        private readonly double _alpha;

        public Design(RunsFigure candidate, RunsFigure baseline, double limit, double alpha)
        {
            _alpha = alpha;
            _candidateVariance = candidate.RunVariance;
            _baselineVariance = limit * limit * baseline.RunVariance;
            var difference = MarginTest.Difference(candidate.Value, baseline.Value, limit);
            _difference = Math.Abs(difference.Value);
            MeterVariance = difference.Components.Where(c => c.Source != candidate.ScatterSource && c.Source != baseline.ScatterSource)
                .Sum(c => c.SignedStandardUncertainty * c.SignedStandardUncertainty);
        }

        public double MeterVariance { get; }

        public double PowerWith(double candidateRuns, double baselineRuns)
        {
            double a = _candidateVariance / candidateRuns, b = _baselineVariance / baselineRuns, all = a + b + MeterVariance;
            if (all == 0)
            {
                return _difference > 0 ? 1 : 0;
            }

            double spent = (a == 0 ? 0 : a * a / (candidateRuns - 1)) + (b == 0 ? 0 : b * b / (baselineRuns - 1));
            double dof = spent == 0 ? double.PositiveInfinity : all * all / spent;
            return 1 - TestPower.NoncentralLowerTail(StudentDistribution.Quantile(1 - _alpha, dof), dof, _difference / Math.Sqrt(all));
        }
    }
}

/// <summary>A figure together with the runs behind it.</summary>
/// <param name="Value">The figure.</param>
/// <param name="Runs">How many runs. [1]</param>
/// <param name="ScatterSource">Source that holds the scatter between runs; null where none does.</param>
internal sealed record RunsFigure(Measured Value, int Runs, InfluenceSource? ScatterSource)
{
    /// <summary>Variance of a single run, in the figure's unit squared; zero where the scatter is not known.</summary>
    public double RunVariance => Scatter is { } s ? Runs * s.SignedStandardUncertainty * s.SignedStandardUncertainty : 0;

    /// <summary>Scatter of a single run by the figure; null where it is not known. [1]</summary>
    public double? RelativeScatter => Scatter is { } && Value.Value != 0 ? Math.Sqrt(RunVariance) / Math.Abs(Value.Value) : null;

    private UncertaintyComponent? Scatter
    {
        get
        {
            foreach (var c in Value.Components)
            {
                if (c.Source == ScatterSource)
                {
                    return c;
                }
            }

            return null;
        }
    }
}
