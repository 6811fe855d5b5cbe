using ChargeAudit.Comparing.Placement;
using ChargeAudit.Comparing.Results;
using ChargeAudit.Metrology;
using ChargeAudit.Reports.Charts;
using ChargeAudit.Reports.Text;
using ChargeAudit.Studies;

namespace ChargeAudit.Reports.Model.Sections;

/// <summary>What the place of the device changes. Only where a study gives factors.</summary>
internal static class PlacementSection
{
    /// <summary>The section; none where there are no factors.</summary>
    public static IEnumerable<Section> Of(AuditResult result, IReadOnlySet<string> keys)
    {
        if (result.Placement is not { } placement)
        {
            yield break;
        }

        var blocks = new List<Block> { new Bullets(Opening(placement)) };
        blocks.AddRange(Cells.Picture(keys, PlacementMapChart.Key));
        blocks.AddRange(Cells.Picture(keys, ToleranceChart.Key));
        blocks.AddRange(placement.Methods.Where(m => m.Positions.Count > 0).Select(Positions));
        blocks.AddRange(placement.Differences.SelectMany(Difference));
        blocks.AddRange(Responses(placement, keys));
        blocks.AddRange(placement.Methods.SelectMany(Model));
        yield return new Section("placement", "Where the device lies", blocks);
    }

    private static List<string> Opening(PlacementResult placement)
    {
        var sentences = new List<string>(PlacementWords.Summary(placement));
        sentences.AddRange(placement.Methods.Where(m => m.WhyNoMap is not null).Select(m => $"{m.Method}: {m.WhyNoMap}"));
        sentences.AddRange(placement.Methods.Where(m => m.Figure.To is null)
            .Select(m =>
                $"{m.Method}: only the input was measured, so energy per charge is shown, which also depends on how much the battery "
                    + $"happened to need; a meter at the device as well would give the efficiency."));
        sentences.AddRange(placement.Methods.SelectMany(m => m.Notes));
        return sentences;
    }

    private static DataTable Positions(MethodPlacement m)
    {
        bool wired = m.Positions.Any(p => p.ToReference is not null);
        List<Column> columns =
        [
            new("Position"), new("Runs", ColumnKind.Number), new(PlainWords.Capital(PlacementWords.Of(m.Figure)), ColumnKind.Number),
            new("More than at the best", ColumnKind.Number), .. wired
                ? new[] { new Column("Times the cable", ColumnKind.Number) }
                : [],
        ];
        return new DataTable(
            $"Measured positions: {m.Method}",
            columns,
            [.. m.Positions.Select(p => (IReadOnlyList<string>)[
                FactorWords.Position(p.XMm, p.YMm), FigureText.Count(p.Runs.Count), Cells.Of(PlacementWords.ForPeople(p.Shown)),
                p.ToBest is { } best ? Cells.Of(FigureText.Overhead(best)) : "the best", .. wired
                    ? new[] { p.ToReference is { } times ? Cells.Of(times) : "not measured alike" }
                    : []])]);
    }

    private static IEnumerable<Block> Difference(PlacementDifference d)
    {
        if (d.WhyNone is not null)
        {
            yield return new Paragraph(d.WhyNone);
            yield break;
        }

        yield return new DataTable(
            $"{d.Second} less {d.First}, where both were measured or lie inside both maps",
            [new("Position"), new(d.First, ColumnKind.Number), new(d.Second, ColumnKind.Number), new("Difference", ColumnKind.Number)],
            [.. d.Positions.Select(p => (IReadOnlyList<string>)[
                FactorWords.Position(p.XMm, p.YMm), Cells.Of(PlacementWords.ForPeople(p.First)),
                    Cells.Of(PlacementWords.ForPeople(p.Second)),
                p.Difference.Unit == "1" ? Cells.Of(p.Difference.In("points", 100)) : Cells.Of(p.Difference)])]);
    }

    private static IEnumerable<Block> Responses(PlacementResult placement, IReadOnlySet<string> keys)
    {
        foreach (var factor in Enum.GetValues<Factor>())
        {
            var curves = placement.Methods.SelectMany(m => m.Responses.Where(r => r.Factor == factor), (m, r) => (Method: m, Curve: r))
                .ToList();
            if (curves.Count == 0)
            {
                continue;
            }

            yield return new Subheading($"What the {FactorWords.Of(factor)} changes");
            foreach (var picture in Cells.Picture(keys, ResponseChart.Key(factor)))
            {
                yield return picture;
            }

            var cautions = curves.Where(c => c.Curve.Caution is not null).Select(c => $"{c.Method.Method}: {c.Curve.Caution}").ToList();
            if (cautions.Count > 0)
            {
                yield return new Bullets(cautions);
            }

            yield return new DataTable(
                $"Levels of the {FactorWords.Of(factor)}",
                [new("Level"), new("Method"), new("Runs", ColumnKind.Number), new("Mean", ColumnKind.Number)],
                [.. curves.SelectMany(c => c.Curve.Levels, (c, l) => (IReadOnlyList<string>)[
                    l.Name, c.Method.Method, FigureText.Count(l.Runs.Count), Cells.Of(PlacementWords.ForPeople(l.Shown))])])
            { Folded = true };
        }
    }

    private static IEnumerable<Block> Model(MethodPlacement m)
    {
        yield return new Subheading($"Linear model of {m.Method}");
        if (m.Model is not { } model)
        {
            yield return new Paragraph(m.WhyNoModel ?? "There is no model.");
            yield break;
        }

        string taken = m.Figure.To is null ? $"energy per charge {Words.At(m.Figure.From)}" : "energy in per energy delivered";
        yield return new Paragraph(
            $"Fitted to the {taken} of {model.Runs} runs by least squares: a constant plus the sum of each coefficient times its term. "
            + "The interval joins two parts, shown apart: the scatter of the runs about the model, and the measurement errors that all "
                + "runs share.");
        yield return new DataTable(
            $"Coefficients: {m.Method}",
            [new("Term"), new("Coefficient", ColumnKind.Number), new("Standard uncertainty by scatter", ColumnKind.Number),
                new("By shared measurement", ColumnKind.Number)],
            [.. model.Terms.Select(t =>
                (IReadOnlyList<string>)[t.Name, Cells.Of(t.Coefficient), Part(t.Scatter), Part(t.SharedMeasurement)])]);
        yield return new Bullets([.. Quality(model), .. model.Notes]);
    }

    private static IEnumerable<string> Quality(PlacementModel model)
    {
        yield return Prose.Of(
            $"Degrees of freedom: {model.DegreesOfFreedom:0} ({model.Runs} runs less {model.Terms.Count} coefficients). The model explains "
            + $"{100 * model.RSquared:0.0} % of the scatter (R²)")
            + (double.IsFinite(model.ResidualScatter)
                ? $"; a run lies {FigureText.Plain(model.ResidualScatter, model.Unit, 2)} off it (standard deviation)."
                : ".");
        yield return model.LackOfFit switch
        {
            null => "Whether the model misses part of the shape cannot be told: no setting was repeated, or too few.",
            { Probability: < LackOfFit.Clear } lack =>
                Prose.Of(
                    $"The model misses part of the shape: the runs lie further off it than repeats lie apart (F = {lack.F:0.0}, "
                + $"probability {lack.Probability:0.000} if it missed nothing). Trust the map more than the coefficients."),
            var lack =>
                Prose.Of(
                    $"Nothing speaks against the model's shape: the runs lie no further off it than repeats lie apart (F = {lack.F:0.0}, "
                + $"probability {lack.Probability:0.00})."),
        };
        yield return Prose.Of($"Condition number of the terms: {model.ConditionNumber:0.0}")
            + (model.ConditionNumber > 30 ? ": some terms nearly repeat others, so their coefficients can hardly be told apart."
                : " (1 is best; above 30 terms can hardly be told apart).");
    }

    private static string Part(double? u) => u is { } known ? FigureText.Plain(known, "", 2) : "not known";
}
