using ChargeAudit.Comparing.Results;
using ChargeAudit.Metrology.Uncertainty;
using ChargeAudit.Reports.Text;

namespace ChargeAudit.Reports.Model.Sections;

/// <summary>Where the uncertainty of each headline figure comes from.</summary>
internal static class UncertaintySection
{
    private const int MostRows = 10;

    // Below this part of the whole, what is left of a source is rounding: it has cancelled.
    private const double Negligible = 1e-9;

    /// <summary>The section.</summary>
    public static Section Of(AuditResult result)
    {
        var blocks = new List<Block>
        {
            new Paragraph(
                "Each table splits the uncertainty of one figure by source. A share is the part of the squared standard uncertainty that a "
                + "source brings; "
                + "what two figures have in common, such as the gain of one meter, has already cancelled or added up."),
        };
        foreach (var c in Answer.Headlines(result))
        {
            Add(blocks, $"Energy of {c.Method} divided by that of {c.Reference}, {Words.At(c.Point)}", c.OverheadRatio, folded: false);
            foreach (string name in new[] { c.Reference, c.Method }.Distinct())
            {
                if (result.Methods.FirstOrDefault(m => m.Name == name)?.Points.TryGetValue(c.Point, out var at) == true)
                {
                    Add(blocks, $"Energy per charge of {name}, {Words.At(c.Point)}", at.EnergyPerCharge);
                }
            }
        }

        foreach (var method in result.Methods)
        {
            Add(blocks, $"Energy of a year of charging {Answer.Charging(result, method.Name)}", method.Yearly.Energy);
        }

        return new Section("uncertainty", "How sure the figures are", [.. blocks.Distinct()]);
    }

    private static void Add(List<Block> blocks, string what, Figure figure, bool folded = true)
    {
        if (figure.Value is not { } value)
        {
            blocks.Add(new Paragraph($"{what}: not known, because {figure.WhyNot}."));
        }
        else if (value.StandardUncertainty is not { } u)
        {
            blocks.Add(
                new Paragraph(
                    $"{what}: {FigureText.Of(value)}{DerivedText.Behind(figure)}. Its uncertainty is not known: {value.UnknownBecause}."));
        }
        else if (u == 0)
        {
            blocks.Add(new Paragraph($"{what}: {FigureText.Of(value)}{DerivedText.Behind(figure)}. No source of error was stated."));
        }
        else
        {
            blocks.Add(Table($"{what}: {FigureText.Of(value)}{DerivedText.Behind(figure)}", value, u) with { Folded = folded });
            var budget = Budget.Of(value);
            blocks.AddRange(new[] { budget.Advice, budget.Warning }.OfType<string>().Where(_ => !folded)
                .Select(text => new Paragraph(text)));
        }
    }

    private static DataTable Table(string caption, Measured value, double u)
    {
        var (some, none) = (new List<UncertaintyComponent>(), new List<UncertaintyComponent>());
        foreach (var c in value.Components)
        {
            (Math.Abs(c.SignedStandardUncertainty) > Negligible * u ? some : none).Add(c);
        }

        var sorted = some.OrderByDescending(c => Math.Abs(c.SignedStandardUncertainty)).ToList();
        var lines = sorted.Take(MostRows)
            .Select(c => (Name: SourceText.Of(c.Source), U: c.SignedStandardUncertainty, Dof: Dof(c.Source), Shared: c.Source.Shared
                ? "yes"
                : "no")).ToList();
        if (sorted.Count > MostRows)
        {
            double rest = Math.Sqrt(sorted.Skip(MostRows).Sum(c => c.Variance));
            lines.Add(($"{FigureText.Count(sorted.Count - MostRows)} smaller ones together", rest, "various", "various"));
        }

        var shares = ShareText.Of([.. lines.Select(l => 100 * l.U * l.U / (u * u))]);
        var rows =
            lines.Zip(shares,
            (l, share) => (IReadOnlyList<string>)[l.Name, FigureText.Plain(Math.Abs(l.U), value.Unit, 2), share, l.Dof, l.Shared]).ToList();
        rows.AddRange(
            none.Select(c =>
            (IReadOnlyList<string>)[SourceText.Of(c.Source), "cancels", "0 %", Dof(c.Source), c.Source.Shared ? "yes" : "no"]));
        double? k = value.Interval()?.CoverageFactor;
        rows.Add([$"all together (coverage factor {FigureText.Plain(k ?? 0, "", 3)})", FigureText.Plain(u, value.Unit, 2), "100 %",
            value.DegreesOfFreedom is { } dof && double.IsFinite(dof) ? FigureText.Plain(dof, "", 3) : "unlimited", "does not apply"]);
        return new DataTable(
            caption,
            [new("Source"), new("Standard uncertainty", ColumnKind.Number), new("Share", ColumnKind.Number),
                new("Degrees of freedom", ColumnKind.Number), new("The same in another study with this equipment")],
            rows);
    }

    private static string Dof(InfluenceSource source) => double.IsFinite(source.DegreesOfFreedom)
        ? FigureText.Plain(source.DegreesOfFreedom, "", 3)
        : "unlimited";
}
