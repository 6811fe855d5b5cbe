namespace ChargeAudit.Metrology.Uncertainty;

/// <summary>How a figure was propagated.</summary>
public enum PropagationMethod
{
    /// <summary>By first derivatives, second-order terms where those vanish.</summary>
    Derivatives,

    /// <summary>By Monte Carlo, as the derivatives did not stand the comparison with it.</summary>
    MonteCarlo,
}

/// <summary>A propagated figure, and how it was had.</summary>
/// <param name="Value">The figure.</param>
/// <param name="Method">Which way it was propagated.</param>
/// <param name="FirstOrderUncertainty">Standard uncertainty by first derivatives alone.</param>
/// <param name="SecondOrderUncertainty">The same with second-order terms.</param>
/// <param name="Check">The Monte Carlo run that it was checked against.</param>
public sealed record PropagationResult(
    Measured Value, PropagationMethod Method, double FirstOrderUncertainty, double SecondOrderUncertainty, MonteCarloResult Check);

/// <summary>
/// Propagates any model of one result. First derivatives come first; they are replaced where a Monte Carlo run shows them wrong in the
/// digits that count.
/// <i>Source:</i> JCGM 100:2008, 5.1.2 with its note on second-order terms; JCGM 101:2008, clause 8 (validation).
/// </summary>
public static class Propagation
{
    private const double Step = 0.05;
    private const double WideStep = 0.5;

    // A denominator this many times its own standard uncertainty away from zero is as good as any.
    private const double SafeDistance = 50;

    /// <summary>Propagates a model.</summary>
    /// <param name="model">Value of the model for one value an input, in their order; smooth within a few standard uncertainties.</param>
    /// <param name="inputs">Inputs; they may share sources.</param>
    /// <param name="unit">Unit of the result.</param>
    /// <param name="options">How to run the Monte Carlo check; null for the defaults.</param>
    /// <param name="name">Names the model: what its curvature adds becomes the source <c>NAME/curvature</c>, which no other figure should
    /// have.</param>
    /// <returns>The figure; where Monte Carlo replaces the derivatives it has the shortest interval, and its components are scaled to the
    /// uncertainty found.</returns>
    public static PropagationResult Evaluate(
        Func<ReadOnlySpan<double>, double> model, IReadOnlyList<Measured> inputs, string unit, MonteCarloOptions? options = null, string name = "model")
    {
        options ??= new MonteCarloOptions();
        var sources = inputs.SelectMany(i => i.Components).GroupBy(c => c.Source).Select(g => g.First().Source).ToArray();
        double At(params ReadOnlySpan<(int Source, double Error)> errors)
        {
            var x = new double[inputs.Count];
            for (int i = 0; i < x.Length; i++)
            {
                x[i] = inputs[i].Value;
                foreach (var (source, error) in errors)
                {
                    x[i] += error * inputs[i].Components.FirstOrDefault(c => c.Source.Equals(sources[source])).SignedStandardUncertainty;
                }
            }

            return model(x);
        }

        double value = At();
        var first = new double[sources.Length];
        for (int s = 0; s < first.Length; s++)
        {
            // Central differences at two steps, the leading error taken out.
            double coarse = (At((s, 2 * Step)) - At((s, -2 * Step))) / (4 * Step), fine = (At((s, Step)) - At((s, -Step))) / (2 * Step);
            first[s] = fine + ((fine - coarse) / 3);
        }

        double firstVariance = first.Sum(c => c * c);
        double secondVariance = Math.Max(firstVariance, firstVariance + SecondOrder(sources, first, value, At));
        var components = first.Select((c, s) => new UncertaintyComponent(sources[s], c)).ToList();
        if (secondVariance > firstVariance)
        {
            components.Add(new(new InfluenceSource($"{name}/curvature"), Math.Sqrt(secondVariance - firstVariance)));
        }

        var byDerivatives = Measured.From(value, unit, components);
        var check = MonteCarlo.Run(model, inputs, options);
        bool agrees = Agrees(byDerivatives.Interval(options.Coverage)!.Value, check, options.SignificantDigits);
        var figure = agrees ? byDerivatives : Replaced(check, unit, name, sources, first, firstVariance);
        return new PropagationResult(
            figure, agrees ? PropagationMethod.Derivatives : PropagationMethod.MonteCarlo, Math.Sqrt(firstVariance), Math.Sqrt(secondVariance), check);
    }

    /// <summary>
    /// A ratio whose denominator may be poor. Far from zero it is the plain quotient; nearer, Monte Carlo decides; where the denominator
    /// cannot be told from zero the
    /// result has no interval, and says so. What both share is drawn once and cancels.
    /// </summary>
    /// <param name="numerator">Figure above the line.</param>
    /// <param name="denominator">Figure below the line.</param>
    /// <param name="unit">Unit of the result.</param>
    /// <param name="factor">Result units in one numerator unit by one denominator unit.</param>
    /// <param name="options">How to run Monte Carlo; null for the defaults.</param>
    /// <param name="name">Names the ratio, as for <see cref="Evaluate"/>.</param>
    public static Measured Ratio(
        Measured numerator, Measured denominator, string unit = "1", double factor = 1, MonteCarloOptions? options = null, string name = "ratio")
    {
        if (numerator.UnknownBecause is not null || denominator.UnknownBecause is not null)
        {
            return Measured.Quotient(numerator, denominator, unit, factor);
        }

        double u = denominator.StandardUncertainty!.Value;
        if (SafeDistance * u <= Math.Abs(denominator.Value) && denominator.Value != 0)
        {
            return Measured.Quotient(numerator, denominator, unit, factor);
        }

        // Six nines: the denominator's sign must not change in a million trials, or the mean of the ratio does not exist.
        var reach = denominator.Interval(0.999_999)!.Value;
        return reach.Low <= 0 && reach.High >= 0
            ? Measured.Unknown(factor * numerator.Value / denominator.Value, unit, "the denominator cannot be told from zero, so the ratio has no bounded interval")
            : Evaluate(x => factor * x[0] / x[1], [numerator, denominator], unit, options, name).Value;
    }

    /// <summary>
    /// Whether an interval stands the comparison with Monte Carlo: both ends within half a unit of the last digit of the standard
    /// uncertainty that counts, of either the
    /// symmetric or the shortest interval.
    /// </summary>
    /// <param name="interval">Interval by derivatives.</param>
    /// <param name="check">The Monte Carlo run.</param>
    /// <param name="significantDigits">Digits of the standard uncertainty that count. [1]</param>
    public static bool Agrees(CoverageInterval interval, MonteCarloResult check, int significantDigits)
    {
        if (!(check.StandardUncertainty > 0))
        {
            return true;
        }

        double tolerance = MonteCarlo.NumericalTolerance(check.StandardUncertainty, significantDigits);
        bool Near(CoverageInterval other) => Math.Abs(interval.Low - other.Low) <= tolerance && Math.Abs(interval.High - other.High) <= tolerance;
        return Near(check.Symmetric) || Near(check.Shortest);
    }

    private delegate double ModelAt(params ReadOnlySpan<(int Source, double Error)> errors);

    // Σᵢ Σⱼ [½ fᵢⱼ² + fᵢ fᵢⱼⱼ], in units of the sources' standard uncertainties.
    private static double SecondOrder(InfluenceSource[] sources, double[] first, double value, ModelAt at)
    {
        const double h = WideStep;
        double sum = 0;
        for (int j = 0; j < first.Length; j++)
        {
            double SecondAlong(int i, double error) =>
                (at((i, error), (j, h)) - (2 * at((i, error))) + at((i, error), (j, -h))) / (h * h);

            for (int i = 0; i < first.Length; i++)
            {
                if (i == j)
                {
                    double own = (at((j, h)) - (2 * value) + at((j, -h))) / (h * h);
                    double third = (at((j, 2 * h)) - (2 * at((j, h))) + (2 * at((j, -h))) - at((j, -2 * h))) / (2 * h * h * h);
                    double fourthMoment = Kurtosis(sources[j].Shape);

                    // The published form is that of normal errors (fourth moment 3); other shapes have their own.
                    sum += (0.25 * own * own * (fourthMoment - 1)) + (first[j] * third * fourthMoment / 3);
                    continue;
                }

                double mixed = (at((i, h), (j, h)) - at((i, h), (j, -h)) - at((i, -h), (j, h)) + at((i, -h), (j, -h))) / (4 * h * h);
                double third2 = (SecondAlong(i, h) - SecondAlong(i, -h)) / (2 * h);
                sum += (0.5 * mixed * mixed) + (first[i] * third2);
            }
        }

        return sum;
    }

    private static double Kurtosis(ErrorShape shape) => shape switch
    {
        ErrorShape.Rectangular => 1.8,
        ErrorShape.Triangular => 2.4,
        ErrorShape.Arcsine => 1.5,
        _ => 3,
    };

    private static Measured Replaced(MonteCarloResult check, string unit, string name, InfluenceSource[] sources, double[] first, double firstVariance)
    {
        // Correlation with other figures is kept by source as far as the derivatives know of it; the rest is the model's own.
        double variance = check.StandardUncertainty * check.StandardUncertainty;
        double scale = firstVariance > variance ? Math.Sqrt(variance / firstVariance) : 1;
        var components = first.Select((c, s) => new UncertaintyComponent(sources[s], scale * c)).ToList();
        if (variance > firstVariance)
        {
            components.Add(new(new InfluenceSource($"{name}/curvature"), Math.Sqrt(variance - firstVariance)));
        }

        var figure = Measured.From(check.Mean, unit, components);
        return figure.WithInterval(coverage => coverage == check.Shortest.Coverage ? check.Shortest : Stretched(figure, check.Shortest, coverage));
    }

    // One coverage was drawn; another is stretched from it about the estimate, as the components' own factors say.
    private static CoverageInterval Stretched(Measured figure, CoverageInterval drawn, double coverage)
    {
        UncertaintyComponent[] components = [.. figure.Components];
        double stretch = CoverageFactor.Of(components, coverage) / CoverageFactor.Of(components, drawn.Coverage);
        return new CoverageInterval(
            figure.Value + (stretch * (drawn.Low - figure.Value)), figure.Value + (stretch * (drawn.High - figure.Value)), coverage, stretch * drawn.CoverageFactor);
    }
}
