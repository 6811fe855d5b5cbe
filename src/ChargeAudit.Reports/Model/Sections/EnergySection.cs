using ChargeAudit.Comparing.Results;
using ChargeAudit.Logs;
using ChargeAudit.Metrology;
using ChargeAudit.Reports.Text;

namespace ChargeAudit.Reports.Model.Sections;

/// <summary>Energy per charge, and every run behind it.</summary>
internal static class EnergySection
{
    /// <summary>The section.</summary>
    public static Section Of(AuditResult result, IReadOnlySet<string> keys)
    {
        var blocks = new List<Block>();
        blocks.AddRange(Cells.Picture(keys, "energy-per-charge"));
        blocks.Add(new DataTable(
            "Energy per charge, mean over the runs",
            [new("Method"), new("Measured"), new("Energy per charge", ColumnKind.Number), new("Runs", ColumnKind.Number),
                new("Mean length of a charge")],
            [.. result.Methods.SelectMany(m => m.Points.OrderBy(p => p.Key), (m, p) => (IReadOnlyList<string>)[
                m.Name, Words.At(p.Key) + DerivedText.Mark(p.Value.EnergyPerCharge), Cells.Of(p.Value.EnergyPerCharge),
                    FigureText.Count(p.Value.RunEnergiesWh.Count), FigureText.Duration(p.Value.ChargeDurationS)])]));
        blocks.Add(new DataTable(
            "Each method against the reference",
            [new("Method"), new("Measured"), new("Energy against the reference", ColumnKind.Number),
                new("Extra energy per charge", ColumnKind.Number)],
            [.. result.Comparisons.Select(c => (IReadOnlyList<string>)[
                $"{c.Method} against {c.Reference}", Words.At(c.Point) + DerivedText.Mark(c.OverheadRatio), c.OverheadRatio.Value is null
                    ? Cells.Of(c.OverheadRatio)
                    : Cells.Of(c.OverheadRatio).Insert(0, "× "), Cells.Of(c.ExtraEnergyPerCharge)])]));
        if (result.Corrections.Count > 0)
        {
            blocks.Add(new DataTable(
                "As read, and corrected by the meters' calibrations",
                [new("Method"), new("Measured"), new("Figure"), new("As read", ColumnKind.Number), new("Correction", ColumnKind.Number),
                    new("Calibration")],
                [.. result.Corrections.Select(c => (IReadOnlyList<string>)[
                    c.Method, Words.At(c.Point), CorrectionText.Name(c.Figure), FigureText.Plain(c.AsRead, c.Unit),
                        CorrectionText.WithSign(c), c.By])]));
        }

        blocks.AddRange(EndRuleBlocks.Of(result));
        blocks.AddRange(BlockText.Of(result).Select(text => new Paragraph(text)));
        blocks.Add(Runs(result));
        return new Section("energy", "Energy per charge", blocks);
    }

    private static DataTable Runs(AuditResult result)
    {
        var points = Enum.GetValues<MeasuringPoint>().Where(p => result.Methods.Any(m => m.Runs.Any(r => r.Points.ContainsKey(p))))
            .ToList();
        bool named = result.Methods.Any(m => m.Runs.Any(r => r.Block is not null));
        return new DataTable(
            "Every run",
            [new("Run"), .. named ? [new Column("Block")] : Array.Empty<Column>(),
                .. points.Select(p => new Column($"Energy {Words.At(p)}", ColumnKind.Number)), new("Length of the charge"),
                new("Battery, start to end"), new("Counts")],
            [.. result.Methods.SelectMany(m => m.Runs).Select(r => (IReadOnlyList<string>)[
                r.Id,
                .. named ? [r.Block ?? "not given"] : Array.Empty<string>(),
                .. points.Select(p => r.Points.TryGetValue(p, out var seen) ? Cells.Of(seen.Energy) : "not measured"),
                r.Points.Count > 0 ? FigureText.Duration(r.Points.OrderBy(p => p.Key).First().Value.Charge.DurationS) : "not measured",
                r.StartChargePercent is { } start && r.EndChargePercent is { } end
                    ? Prose.Of($"{start:0.##} % to {end:0.##} %")
                    : "not given",
                r.Excluded is { } why ? $"left out: {why}" : "yes"])]);
    }
}
