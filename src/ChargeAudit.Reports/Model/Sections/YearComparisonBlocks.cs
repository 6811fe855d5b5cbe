using ChargeAudit.Comparing.Methods;
using ChargeAudit.Comparing.Results;
using ChargeAudit.Comparing.Yearly;
using ChargeAudit.Metrology;
using ChargeAudit.Reports.Text;

namespace ChargeAudit.Reports.Model.Sections;

/// <summary>The years of the methods beside each other: differences, paybacks, and intervals from random draws.</summary>
internal static class YearComparisonBlocks
{
    /// <summary>The blocks, without those that would be empty.</summary>
    public static IEnumerable<Block> Of(AuditResult result)
    {
        if (result.Years.Count > 0)
        {
            yield return new DataTable(
                "A year against the reference",
                [new("Method"), new("More energy", ColumnKind.Number), new("More cost", ColumnKind.Number),
                    new("More emissions (CO\u2082)", ColumnKind.Number)],
                [.. result.Years.Select(y => (IReadOnlyList<string>)[
                    $"{y.Method} minus {y.Reference}", Cells.Of(y.Difference.Energy), Cells.Of(y.Difference.Cost),
                        Cells.Of(y.Difference.Co2)])]);
        }

        if (result.Paybacks.Count > 0)
        {
            string currency = result.Study.Tariff?.Currency ?? "";
            yield return new DataTable(
                "How long until a charger has paid for itself",
                [new("Bought"), new("Instead of going on with"), new("Price", ColumnKind.Number),
                    new("Time until it has paid", ColumnKind.Number)],
                [.. result.Paybacks.Select(p => (IReadOnlyList<string>)[
                    p.Bought, p.Now, Prose.Of($"{p.Price:0.00} {currency}").TrimEnd(), p.Years.Value is null
                        ? p.Years.WhyNot!
                        : Cells.Of(p.Years)])]);
        }

        var drawn = result.Methods.Where(m => m.Yearly.Detail is not null).ToList();
        if (drawn.Count > 0)
        {
            yield return new DataTable(
                "The year from random draws, as a check on the intervals above",
                [new("Method"), new("Energy", ColumnKind.Number), new("Cost", ColumnKind.Number), new("How")],
                [.. drawn.Select(m => Row(m, m.Yearly.Detail!))]);
        }
    }

    private static IReadOnlyList<string> Row(MethodResult method, YearDetail detail) =>
    [
        method.Name,
        detail.EnergyMonteCarlo is { } energy
            ? FigureText.Draws(energy, "kWh") + DerivedText.Behind(method.Yearly.Energy)
            : $"not known: {detail.NoMonteCarloBecause}",
        detail.CostMonteCarlo is { } cost ? FigureText.Draws(cost, detail.Currency?.Code ?? "")
            + DerivedText.Behind(method.Yearly.Cost) : $"not known: {detail.NoMonteCarloBecause ?? "no price was given"}",
        detail.EnergyMonteCarlo is { } how
            ? Prose.Of(
                $"median and {100 * how.Coverage:0} % interval of {FigureText.Count(how.Draws)} draws, seed {how.Seed} (JCGM "
                + $"101:2008, 7.7)")
            : "no draws",
    ];
}
