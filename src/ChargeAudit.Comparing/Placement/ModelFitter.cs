using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Statistics;
using ChargeAudit.Metrology.Uncertainty;
using ChargeAudit.Studies;
using MathNet.Numerics.Distributions;

namespace ChargeAudit.Comparing.Placement;

/// <summary>A fitted model with what is needed to evaluate it.</summary>
internal sealed record FittedModel(RunFit Fit, IReadOnlyList<ModelColumn> Columns, PlacementModel Model)
{
    /// <summary>The row at a position, everything that is not an offset at its mean over the runs.</summary>
    public double[] RowAt(double xMm, double yMm, IReadOnlyList<PlacedRun> runs)
    {
        var at = new RunFactors(new Dictionary<Factor, double> { [Factor.OffsetX] = xMm, [Factor.OffsetY] = yMm }, null);
        return [1, .. Columns.Select(c => FactorWords.IsOffset(c.Factor) ? c.Of(at) : runs.Average(r => c.Of(r.Factors)))];
    }
}

/// <summary>Fits the linear model, leaving out what the runs cannot tell apart.</summary>
internal static class ModelFitter
{
    /// <summary>Share of a column that must not be a mixture of those before it. [1]</summary>
    private const double LeastOwnShare = 0.01;

    /// <summary>Residuals below this share of the value are what rounding leaves, and have no shape. [1]</summary>
    private const double Rounding = 1e-9;

    /// <summary>Probability below which the fourth power joins the model. [1]</summary>
    private const double Clear = 0.05;

    /// <summary>The model, or why there is none.</summary>
    public static (FittedModel? Model, string? WhyNot) Of(string method, IReadOnlyList<PlacedRun> runs, string unit)
    {
        var candidates = ModelTerms.Of(runs);
        if (candidates.Count == 0)
        {
            return (null, "No factor was given two values, so there is nothing to fit.");
        }

        var notes = new List<string>();
        var kept = new List<ModelColumn>();
        foreach (var column in candidates)
        {
            if (runs.Count - (kept.Count + 2) < 1)
            {
                notes.Add($"The {column.Name} is left out of the model: {runs.Count} runs are too few for one more coefficient.");
            }
            else if (OwnShare(kept, column, runs) < LeastOwnShare)
            {
                notes.Add(
                    $"The {column.Name} is left out of the model: over these runs it follows from {Names(kept)}, so its effect cannot be "
                    + "told apart.");
            }
            else
            {
                kept.Add(column);
            }
        }

        if (kept.Count == 0)
        {
            return (null, $"A model needs at least three runs, and there are {runs.Count}.");
        }

        var fit = Fit(kept, runs);
        if (kept.Any(c => c.Id == ModelTerms.DistanceSquared)
            && fit.Fit.ResidualStandardDeviation > Rounding * Math.Abs(runs[0].Taken.Value) && runs.Count - (kept.Count + 2) >= 2
            && OwnShare(kept, ModelTerms.Fourth(runs), runs) >= LeastOwnShare)
        {
            List<ModelColumn> steeper = [.. kept, ModelTerms.Fourth(runs)];
            var second = Fit(steeper, runs);
            double t = second.Fit.Coefficients[^1] / second.Fit.StandardError(steeper.Count);
            if (StudentDistribution.BothTails(t, second.Fit.DegreesOfFreedom) < Clear)
            {
                (kept, fit) = (steeper, second);
            }
        }

        var terms = new List<ModelTerm> { Term(method, fit, kept, 0, unit) };
        terms.AddRange(kept.Select((_, j) => Term(method, fit, kept, j + 1, unit)));
        var model = new PlacementModel(
            terms, runs.Count, fit.Fit.DegreesOfFreedom, fit.Fit.ResidualStandardDeviation, unit, fit.Fit.RSquared, fit.Fit.ConditionNumber,
            LackOf(fit, runs), notes);
        return (new FittedModel(fit, kept, model), null);
    }

    private static RunFit Fit(List<ModelColumn> columns, IReadOnlyList<PlacedRun> runs) =>
        RunFit.Of([.. columns.Select(c => runs.Select(r => c.Of(r.Factors)).ToArray())], [.. runs.Select(r => r.Taken)]);

    private static ModelTerm Term(string method, RunFit fit, List<ModelColumn> columns, int index, string unit)
    {
        double[] contrast = new double[columns.Count + 1];
        contrast[index] = 1;
        var column = index == 0 ? null : columns[index - 1];
        string per = column is null || column.Unit.Length == 0 ? unit : $"{unit}/{column.Unit}";
        string id = column?.Id ?? "constant";
        return new ModelTerm(id, column?.Name ?? "constant (all terms below at zero)",
            fit.Sum(contrast, per, InfluenceSource.OfMethod(method, SourceKind.Repeatability, "placement-" + id)));
    }

    // What is left of a column when the others have been fitted to it; 0: it is a mixture of them.
    private static double OwnShare(List<ModelColumn> kept, ModelColumn column, IReadOnlyList<PlacedRun> runs)
    {
        double[] values = [.. runs.Select(r => column.Of(r.Factors))];
        if (!(SampleStatistics.Of(values).StandardDeviation > 0))
        {
            return 0;
        }

        return kept.Count == 0
            ? 1
            : 1 - LeastSquaresFit.Columns([.. kept.Select(c => runs.Select(r => c.Of(r.Factors)).ToArray())], values).RSquared;
    }

    private static string Names(List<ModelColumn> columns) => columns.Count == 0
        ? "the constant"
        : string.Join(", ", columns.Select(c => c.Name));

    private static LackOfFit? LackOf(RunFit fit, IReadOnlyList<PlacedRun> runs)
    {
        var repeats = runs.GroupBy(r => Setting(r.Factors), StringComparer.Ordinal).Select(g => g.Select(r => r.Taken.Value).ToArray())
            .ToList();
        int repeatFreedom = runs.Count - repeats.Count;
        int modelFreedom = (int)fit.Fit.DegreesOfFreedom - repeatFreedom;
        double pure = repeats.Where(r => r.Length > 1).Sum(r => (r.Length - 1) * SampleStatistics.Of(r).Variance);
        if (repeatFreedom < 1 || modelFreedom < 1 || !(pure > 0))
        {
            return null;
        }

        double f = Math.Max(0, fit.Fit.ResidualSumOfSquares - pure) / modelFreedom / (pure / repeatFreedom);
        return new LackOfFit(f, modelFreedom, repeatFreedom, 1 - FisherSnedecor.CDF(modelFreedom, repeatFreedom, f));
    }

    private static string Setting(RunFactors f) =>
        string.Join('\n', f.Values.OrderBy(v => v.Key).Select(v => InvariantText.Of($"{v.Key}={v.Value:R}")).Append(f.Case));
}
