using ChargeAudit.Metrology;

namespace ChargeAudit.Checking;

/// <summary>
/// How many further runs would settle a figure with a probability of <see cref="Power"/>, if the true ratio is the one found: see
/// <see cref="RatioTestPower"/>, with what the meters do to the ratio left as it is.
/// </summary>
internal static class FurtherRuns
{
    /// <summary>Probability with which the runs named settle it. [1]</summary>
    public const double Power = 0.8;

    /// <summary>Nobody makes more runs than this. [1]</summary>
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
            return new Settling(more, 0, Prose.Of(
                $"{more} further {Word(more, candidate.InBlocks)} of the "
                    + $"candidate{(candidate.WithReference ? " and of its reference" : "")} would settle it "
                    + $"with a probability of {Power:0.##}, if the ratio is as found."));
        }

        if (Least(2, n => design.PowerWith(Math.Max(n, candidate.Runs), Math.Max(n, baseline.Runs))) is { } each)
        {
            int moreCandidate = Math.Max(0, each - candidate.Runs), moreBaseline = Math.Max(0, each - baseline.Runs);
            return new Settling(moreCandidate, moreBaseline, Prose.Of(
                $"{moreCandidate} further {Word(moreCandidate, candidate.InBlocks)} of the candidate and {moreBaseline} of the baseline "
                    + $"would settle it with a "
                    + $"probability of {Power:0.##}, if the ratio is as found; runs of the candidate alone cannot, as the baseline's own "
                    + $"scatter stands in the way."));
        }

        return new Settling(null, null, InvariantText.Of(
            $"Not even {MostRuns} runs of each would settle it: the ratio lies too close to the margin, or the meter's uncertainty leaves "
                + $"too little room."));
    }

    private static string Word(int runs, bool inBlocks) => (runs == 1, inBlocks) switch
    {
        (true, false) => "run",
        (false, false) => "runs",
        (true, true) => "block (day, set-up) of runs",
        _ => "blocks (days, set-ups) of runs",
    };

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
                .Sum(c => c.Variance);
        }

        public double MeterVariance { get; }

        // A baseline of one run has a scatter that was stated and not estimated: a known part beside the candidate's.
        public double PowerWith(double candidateRuns, double baselineRuns) => baselineRuns < 2
            ? RatioTestPower.Of(_difference, (_candidateVariance, 0), (candidateRuns, candidateRuns), MeterVariance
                + (_baselineVariance / baselineRuns), _alpha)
            : RatioTestPower.Of(_difference, (_candidateVariance, _baselineVariance), (candidateRuns, baselineRuns), MeterVariance, _alpha);
    }
}
