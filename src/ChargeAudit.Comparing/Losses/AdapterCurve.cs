using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Statistics;
using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.Comparing.Losses;

/// <summary>
/// Input power of an adapter over its load at one output voltage: P_in = P_0 + a·P_out + b·I_out². Noise of the output reading is allowed
/// for: each point is moved to the place on the curve that the noise of both readings makes likeliest. Immutable. <i>Source:</i>
/// straight-line and current-square terms of a supply's loss are common practice, no source; errors in both variables after W. E. Deming,
/// Statistical Adjustment of Data (1943).
/// </summary>
internal sealed class AdapterCurve
{
    private const int LeastPoints = 8;
    private const double LeastRange = 1.5;
    private readonly LeastSquaresFit _fit;

    private AdapterCurve(double voltageV, LeastSquaresFit fit, double leastOutW, double greatestOutW, int points)
    {
        OutV = voltageV;
        _fit = fit;
        LeastOutW = leastOutW;
        GreatestOutW = greatestOutW;
        Points = points;
    }

    /// <summary>Output voltage; zero where it was not logged, and then the square is that of power. [V]</summary>
    public double OutV { get; }

    /// <summary>Least load seen. [W]</summary>
    public double LeastOutW { get; }

    /// <summary>Greatest load seen. [W]</summary>
    public double GreatestOutW { get; }

    /// <summary>Number of points.</summary>
    public int Points { get; }

    /// <summary>P_0, what is lost whatever the load, with its standard uncertainty. [W]</summary>
    public (double Value, double StandardUncertainty) FixedW => (_fit.Coefficients[0], _fit.StandardError(0));

    /// <summary>a, input for each watt out, with its standard uncertainty. [1]</summary>
    public (double Value, double StandardUncertainty) PerWatt => (_fit.Coefficients[1], _fit.StandardError(1));

    /// <summary>b, with its standard uncertainty; [Ω], or [1/W] where no voltage was logged.</summary>
    public (double Value, double StandardUncertainty) PerSquare => (_fit.Coefficients[2], _fit.StandardError(2));

    /// <summary>
    /// Fits one curve to each output voltage that has at least eight points and whose greatest load is more than 1.5 times the least. Three
    /// coefficients need three different loads: where there are fewer, as where readings lie on few steps, nothing tells them apart and no
    /// curve is given.
    /// </summary>
    /// <param name="points">Loads; their order does not matter.</param>
    /// <param name="inNoiseW">Standard deviation of a point's input. [W]</param>
    /// <param name="outNoiseW">Standard deviation of a point's output. [W]</param>
    /// <returns>The curves; and for each output voltage without one, why, as a clause.</returns>
    public static (IReadOnlyList<AdapterCurve> Curves, IReadOnlyList<string> WhyNone) Fit(IReadOnlyList<LoadPoint> points, double inNoiseW,
        double outNoiseW)
    {
        var curves = new List<AdapterCurve>();
        var whyNone = new List<string>();
        foreach (var group in Groups(points))
        {
            if (TooFewLoads(group) is { } few)
            {
                whyNone.Add(few);
            }
            else if (FitOne(group, Math.Max(inNoiseW, 1e-9), Math.Max(outNoiseW, 0)) is { } curve)
            {
                curves.Add(curve);
            }
            else
            {
                whyNone.Add(
                    $"{At(group)} its readings cover fewer than three loads, and the three parts of a loss cannot be told apart");
            }
        }

        return (curves, whyNone);
    }

    private static string? TooFewLoads(List<LoadPoint> group)
    {
        double least = group.Min(p => p.OutW);
        double greatest = group.Max(p => p.OutW);
        return group.Count < LeastPoints
            ? InvariantText.Of($"{At(group)} {group.Count} stretches of steady load were found, and {LeastPoints} are needed")
            : greatest <= LeastRange * Math.Max(least, 0)
            ? Prose.Of(
                $"{At(group)} the loads lie between {least:G3} W and {greatest:G3} W, too close together to tell how the loss depends on "
                    + $"them")
            : null;
    }

    private static string At(List<LoadPoint> group) =>
        group.Average(p => p.OutV) is > 0 and var volt ? Prose.Of($"at {volt:0.#} V") : "at an output voltage that was not logged";

    /// <summary>Input at a load, with its standard uncertainty. [W]</summary>
    /// <param name="outW">Load. [W]</param>
    public (double Value, double StandardUncertainty) InputAt(double outW)
    {
        var (value, u) = _fit.At(outW, Square(outW, OutV));
        return (value, u);
    }

    /// <summary>Efficiency at a load. [1]</summary>
    /// <param name="outW">Load. [W]</param>
    /// <returns>Missing outside the loads seen: a curve says nothing about what was not measured.</returns>
    public Figure EfficiencyAt(double outW)
    {
        // A fiftieth beyond the ends is still the same load within a window's scatter.
        if (outW < 0.98 * LeastOutW || outW > 1.02 * GreatestOutW)
        {
            return Figure.None(
                Prose.Of($"not measured: {outW:G3} W lies outside the loads seen, {LeastOutW:G3} W to {GreatestOutW:G3} W"));
        }

        var (input, u) = InputAt(outW);
        double efficiency = outW / input;
        var source = new InfluenceSource(InvariantText.Of($"adapter-curve:{OutV:F1}V"), Math.Max(1, _fit.DegreesOfFreedom));
        return Figure.Of(Measured.From(efficiency, "1", [new UncertaintyComponent(source, efficiency * u / input)]));
    }

    private static IEnumerable<List<LoadPoint>> Groups(IReadOnlyList<LoadPoint> points)
    {
        var group = new List<LoadPoint>();
        foreach (var point in points.OrderBy(p => p.OutV))
        {
            // Voltages that supplies agree on lie far apart (5, 9, 12, 15, 20 V); a tenth separates them and forgives a sagging line.
            if (group.Count > 0 && point.OutV > (1.1 * group[^1].OutV) + 0.01)
            {
                yield return group;
                group = [];
            }

            group.Add(point);
        }

        if (group.Count > 0)
        {
            yield return group;
        }
    }

    private static AdapterCurve? FitOne(List<LoadPoint> points, double inNoise, double outNoise)
    {
        double volt = points.Average(p => p.OutV);
        var x = points.Select(p => p.OutW).ToArray();
        var y = points.Select(p => p.InW).ToArray();
        var place = (double[])x.Clone();
        var target = (double[])y.Clone();
        var fit = FitAt(place, target, volt);
        double varianceIn = inNoise * inNoise;
        double varianceOut = outNoise * outNoise;
        for (int pass = 0; pass < 100 && varianceOut > 0 && fit is not null; pass++)
        {
            double moved = 0;
            for (int i = 0; i < x.Length; i++)
            {
                // Both readings pull at the point in proportion to their certainty, along the curve's slope here.
                double slope = fit.Coefficients[1] + (2 * fit.Coefficients[2] * place[i] * (volt > 0 ? 1 / (volt * volt) : 1));
                double off = y[i] - fit.At(place[i], Square(place[i], volt)).Value - (slope * (x[i] - place[i]));
                double next = x[i] + (slope * varianceOut * off / (varianceIn + (slope * slope * varianceOut)));
                moved = Math.Max(moved, Math.Abs(next - place[i]));
                place[i] = next;
                target[i] = y[i] - (slope * (x[i] - next));
            }

            // The curve through the moved places, with the input that each reading of the output would then have had.
            fit = FitAt(place, target, volt);
            if (moved < 1e-9 * Math.Max(1, x.Max()))
            {
                break;
            }
        }

        return fit is null ? null : new AdapterCurve(volt, fit, x.Min(), x.Max(), x.Length);
    }

    private static LeastSquaresFit? FitAt(double[] outW, double[] inW, double volt) =>
        LeastSquaresFit.TryColumns([outW, Array.ConvertAll(outW, p => Square(p, volt))], inW);

    private static double Square(double outW, double volt) => volt > 0 ? outW / volt * (outW / volt) : outW * outW;
}
