using ChargeAudit.Comparing.Methods;
using ChargeAudit.Comparing.Runs;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Repeats;
using ChargeAudit.Metrology.Uncertainty;
using ChargeAudit.Studies;

namespace ChargeAudit.Comparing.Placement;

/// <summary>What the place of the device changes, from runs that carry factors. Pure.</summary>
internal static class PlacementFinder
{
    // These split the runs of a map; the temperature of a room is never twice the same, and is left to the model.
    private static readonly Factor[] Splitting = [Factor.Gap, Factor.Rotation, Factor.PowerLevel, Factor.Case];

    /// <summary>The finding; null where no run that counts carries factors.</summary>
    /// <param name="rules">What is asked.</param>
    /// <param name="methods">The methods, the reference first.</param>
    public static PlacementResult? Of(PlacementRules rules, IReadOnlyList<MethodResult> methods)
    {
        var placed = methods.Where(m => Placed(m).Count > 0).ToList();
        if (placed.Count == 0)
        {
            return null;
        }

        var results = placed.Select(m => Method(rules, m, methods[0])).OfType<MethodPlacement>().ToList();
        return results.Count == 0 ? null : new PlacementResult(rules.Rise, results, PlacementDifferences.Of(results));
    }

    private static List<RunResult> Placed(MethodResult method) => [.. method.Runs.Where(r => r.Excluded is null && !r.Factors.IsNone)];

    private static MethodPlacement? Method(PlacementRules rules, MethodResult method, MethodResult reference)
    {
        var all = Placed(method);
        if (PlacementFigure.Of(all) is not { } figure)
        {
            return null;
        }

        var notes = new List<string>();
        void Left(int count, string why)
        {
            if (count > 0)
            {
                notes.Add($"{count} {(count == 1 ? "run" : "runs")} of {method.Name} {(count == 1 ? "is" : "are")} left out here: {why}.");
            }
        }

        Left(method.Runs.Count(r => r.Excluded is null && r.Factors.IsNone), "no factors are given");
        var runs = all.Where(figure.IsOf).Select(r => new PlacedRun(r.Id, r.Factors, figure.Shown(r), figure.Taken(r))).ToList();
        Left(all.Count - runs.Count, "they were not measured where the others were");
        if (runs.Count == 0)
        {
            return null;
        }

        // A run that says less than the others may differ in what it does not say.
        var alike =
            runs.GroupBy(r => string.Join(", ", Enum.GetValues<Factor>().Where(f => f != Factor.Temperature && r.Factors.Has(f))
            .Select(FactorWords.Of)), StringComparer.Ordinal)
            .OrderByDescending(g => g.Count()).First();
        Left(runs.Count - alike.Count(),
            $"most runs give {(alike.Key.Length == 0 ? "the temperature alone" : alike.Key)}, these give more or less");
        runs = [.. alike];
        notes.AddRange(PartlyGiven(runs));
        var (fitted, whyNoModel) = ModelFitter.Of(method.Name, runs, figure.Unit);
        var result = new MethodPlacement
        {
            Method = method.Name,
            Figure = figure,
            Runs = runs,
            Responses = ResponseCurves.Of(method.Name, runs, figure.Unit),
            Model = fitted?.Model,
            WhyNoModel = whyNoModel,
            Tolerance = ToleranceFinder.Of(rules.Rise, runs, fitted),
        };
        return WithMap(result, reference, notes) with { Notes = notes };
    }

    private static IEnumerable<string> PartlyGiven(List<PlacedRun> runs)
    {
        int given = runs.Count(r => r.Factors.Has(Factor.Temperature));
        if (given > 0 && given < runs.Count)
        {
            yield return $"The temperature is given for {given} of {runs.Count} runs only, so the model leaves it out.";
        }
    }

    private static MethodPlacement WithMap(MethodPlacement result, MethodResult reference, List<string> notes)
    {
        var withPosition = result.Runs.Where(r => r.Factors.Has(Factor.OffsetX) && r.Factors.Has(Factor.OffsetY)).ToList();
        if (withPosition.Count == 0)
        {
            return result with { WhyNoMap = "There is no map: it needs offset-x and offset-y of the runs." };
        }

        // A map compares positions alone, so everything else is kept the same.
        var same =
            withPosition.GroupBy(r =>
            string.Join('\n', Splitting.Select(f => f == Factor.Case ? r.Factors.Case : InvariantText.Of($"{r.Factors.Of(f)}"))),
            StringComparer.Ordinal)
            .OrderByDescending(g => g.Select(r => (r.Factors.Of(Factor.OffsetX), r.Factors.Of(Factor.OffsetY))).Distinct().Count())
                .ThenByDescending(g => g.Count())
            .First().ToList();
        if (same.Count < withPosition.Count)
        {
            string kept =
                string.Join(", ", Splitting.Where(f => same[0].Factors.Has(f))
                .Select(f => f == Factor.Case
                ? $"case {same[0].Factors.Case}"
                : $"{FactorWords.Of(f)} {FactorWords.Value(f, same[0].Factors.Of(f)!.Value)}"));
            notes.Add(
                $"The map of {result.Method} shows the runs with {(kept.Length > 0 ? kept : "no other factor given")}; "
                + $"{withPosition.Count - same.Count} with other settings are in the curves and the model, not in the map.");
        }

        var positions = Positions(result, same, reference);
        var map = PositionSurface.Of(positions);
        if (map is not null && positions.All(p => p.Runs.Count == 1))
        {
            notes.Add(
                $"No position of {result.Method} was measured twice: the intervals of single positions hold the measurement alone, not how "
                + "far a second run would differ.");
        }

        return result with
        {
            Positions = positions,
            Map = map,
            WhyNoMap = map is not null ? null
                : positions.Count < 3
                    ? $"There is no map: it needs three positions at least, and there {(positions.Count == 1 ? "is one" : "are two")}."
                : "There is no map: all positions lie on one line, so nothing is known away from it.",
        };
    }

    private static IReadOnlyList<MeasuredPosition> Positions(MethodPlacement result, List<PlacedRun> runs, MethodResult reference)
    {
        var groups = runs.GroupBy(r => (X: r.Factors.Of(Factor.OffsetX)!.Value + 0.0, Y: r.Factors.Of(Factor.OffsetY)!.Value + 0.0))
            .OrderBy(g => g.Key.X).ThenBy(g => g.Key.Y).Select(g => g.ToList()).ToList();
        IReadOnlyList<Measured> Means(Func<PlacedRun, Measured> of, string what) =>
            PooledMeans.Of([.. groups.Select(g => (IReadOnlyList<Measured>)[.. g.Select(of)])],
                InfluenceSource.OfMethod(result.Method, SourceKind.Repeatability, $"placement-{what}-scatter"));
        var shown = Means(r => r.Shown, "map");
        var taken = Means(r => r.Taken, "taken");
        int best = Enumerable.Range(0, groups.Count).MinBy(i => taken[i].Value);
        var wired = Reference(result, reference);
        return [.. groups.Select((g, i) => new MeasuredPosition(
            g[0].Factors.Of(Factor.OffsetX)!.Value + 0.0, g[0].Factors.Of(Factor.OffsetY)!.Value + 0.0, [.. g.Select(r => r.Id)], shown[i],
                taken[i])
        {
            ToBest = i == best ? null : RatioOfMeans.Compare(taken[i], taken[best]).Ratio,
            ToReference = wired is null ? null : RatioOfMeans.Compare(taken[i], wired).Ratio,
        })];
    }

    private static Measured? Reference(MethodPlacement result, MethodResult reference)
    {
        if (reference.Kind != MethodKind.Wired || reference.Name == result.Method)
        {
            return null;
        }

        var runs = reference.Runs.Where(r => r.Excluded is null && result.Figure.IsOf(r)).Select(result.Figure.Taken).ToList();
        return runs.Count == 0
            ? null
            : Repeatability.Combine(runs,
                InfluenceSource.OfMethod(reference.Name, SourceKind.Repeatability, "placement-reference-scatter")).Mean;
    }
}
