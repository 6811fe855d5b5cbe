using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Statistics;
using ChargeAudit.Metrology.Uncertainty;
using ChargeAudit.Studies;

namespace ChargeAudit.Comparing.Placement;

/// <summary>Works out what each factor changes: means of its levels, and a curve of low order through the runs.</summary>
internal static class ResponseCurves
{
    private const int Places = 41;
    private const double Clear = 0.05;

    /// <summary>A curve for each factor that was set to more than one value.</summary>
    public static IReadOnlyList<ResponseCurve> Of(string method, IReadOnlyList<PlacedRun> runs, string unit) =>
        [.. Enum.GetValues<Factor>().Select(f => Curve(method, f, [.. runs.Where(r => r.Factors.Has(f))], unit)).OfType<ResponseCurve>()];

    private static ResponseCurve? Curve(string method, Factor factor, List<PlacedRun> runs, string unit)
    {
        if (runs.Count == 0 || !ModelTerms.Varies(runs, factor))
        {
            return null;
        }

        var response = InfluenceSource.OfMethod(method, SourceKind.Repeatability, $"response-{StableName.Of(factor)}");
        var groups = factor == Factor.Case
            ? runs.GroupBy(r => (Value: (double?)null, Name: r.Factors.Case!)).OrderBy(g => g.Key.Name, StringComparer.Ordinal).ToList()
            : runs.GroupBy(r => (Value: r.Factors.Of(factor), Name: FactorWords.Value(factor, r.Factors.Of(factor)!.Value)))
                .OrderBy(g => g.Key.Value).ToList();
        var means = PooledMeans.Of([.. groups.Select(g => (IReadOnlyList<Measured>)[.. g.Select(r => r.Shown)])], response with
        {
            Part = response.Part + "-scatter",
        });
        var levels = groups.Select((g, i) => new FactorLevel(g.Key.Value, g.Key.Name, [.. g.Select(r => r.Id)], means[i])).ToList();
        var (line, order) = factor == Factor.Case ? ([], 0) : Line(factor, runs, levels, unit, response);
        return new ResponseCurve(factor, levels, line, order, Confounding.Caution(factor, runs));
    }

    // A straight line, or a parabola where its bend shows. Two levels say nothing about a shape: their means stand alone.
    private static (IReadOnlyList<(double Value, Measured Shown)> Line, int Order) Line(
        Factor factor, List<PlacedRun> runs, List<FactorLevel> levels, string unit, InfluenceSource response)
    {
        if (levels.Count < 3)
        {
            return ([], 0);
        }

        double[] x = [.. runs.Select(r => r.Factors.Of(factor)!.Value)];
        double middle = x.Average();
        List<double[]> columns = [[.. x.Select(v => v - middle)]];
        List<Measured> shown = [.. runs.Select(r => r.Shown)];
        var fit = RunFit.Of(columns, shown);
        int order = 1;
        if (runs.Count > 3)
        {
            columns.Add([.. x.Select(v => (v - middle) * (v - middle))]);
            var bent = RunFit.Of(columns, shown);
            if (StudentDistribution.BothTails(bent.Fit.Coefficients[2] / bent.Fit.StandardError(2), bent.Fit.DegreesOfFreedom) < Clear)
            {
                (fit, order) = (bent, 2);
            }
        }

        double least = levels[0].Value!.Value, greatest = levels[^1].Value!.Value;
        return ([.. Enumerable.Range(0, Places).Select(i =>
        {
            double value = least + ((greatest - least) * i / (Places - 1)), d = value - middle;
            return (value, fit.Sum(order == 2 ? [1, d, d * d] : [1, d], unit, response with { Part = response.Part + "-fit" }));
        })], order);
    }
}
