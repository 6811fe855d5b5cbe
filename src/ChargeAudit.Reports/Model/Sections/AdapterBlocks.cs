using ChargeAudit.Comparing.Results;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Uncertainty;
using ChargeAudit.Reports.Text;

namespace ChargeAudit.Reports.Model.Sections;

/// <summary>The adapter's efficiency over its load.</summary>
internal static class AdapterBlocks
{
    /// <summary>Chart, values at the rated loads and the published limits; nothing where no adapter was measured on both sides.</summary>
    public static IEnumerable<Block> Of(AuditResult result, IReadOnlySet<string> keys)
    {
        if (result.AdapterCurves.Count + result.NoAdapterCurve.Count == 0)
        {
            yield break;
        }

        yield return new Subheading("The adapter over its load");
        if (result.NoAdapterCurve.Count > 0)
        {
            yield return new Bullets(result.NoAdapterCurve);
        }

        if (result.AdapterCurves.Count == 0)
        {
            yield break;
        }

        foreach (var picture in Cells.Picture(keys, "adapter"))
        {
            yield return picture;
        }

        yield return new DataTable(
            "Adapter curves",
            [new("Method"), new("Output voltage"), new("Loads seen"), new("Lost whatever the load", ColumnKind.Number),
                new("Efficiency at the greatest load", ColumnKind.Number)],
            [.. result.AdapterCurves.Select(c => (IReadOnlyList<string>)[
                c.Method,
                Voltage(c),
                $"{FigureText.Plain(c.LeastOutW, "", 3)} to {FigureText.Plain(c.GreatestOutW, "W", 3)}",
                Cells.Of(c.Fixed),
                Cells.Percent(c.Efficiencies[^1].Efficiency)])]);
        if (result.AdapterCurves.Any(c => c.Rated.Count > 0))
        {
            yield return new DataTable(
                "At shares of the rated output",
                [new("Method"), new("Output voltage"), .. Enumerable.Range(1, 4)
                    .Select(q => new Column(InvariantText.Of($"{25 * q} %"), ColumnKind.Number)),
                    new("Mean of the four", ColumnKind.Number)],
                [.. result.AdapterCurves.Where(c => c.Rated.Count > 0).Select(c => (IReadOnlyList<string>)[
                    c.Method, Voltage(c), .. c.Rated.Select(r => Share(r.Efficiency)), Share(c.Average)])]);
        }
        else
        {
            yield return new Paragraph(
                "Efficiency at 25, 50, 75 and 100 % of the rated output is not worked out: the study does not give the adapter's rated "
                + "output ([adapter] output = \"…\").");
        }

        yield return new Paragraph(
            "Each curve is fitted to stretches of steady load on both sides of the adapter (input = fixed part + a share of the output + a "
            + "part that goes with the square of the current). This is for information, not a certificate: the published tests prescribe "
            + "loads, mains voltage and temperature.");
        var published = result.AdapterCurves.SelectMany(c => c.Published).Select(p => p.Text).Distinct().ToList();
        if (published.Count > 0)
        {
            yield return new Bullets(published);
        }
    }

    private static string Voltage(AdapterCurveResult c) => c.OutV > 0 ? FigureText.Plain(c.OutV, "V", 3) : "not logged";

    private static string Share(Figure figure) => figure.Value is null && figure.WhyNot is { } why
        && why.StartsWith("not measured", StringComparison.Ordinal)
        ? "not measured"
        : Cells.Percent(figure);
}
