using ChargeAudit.Comparing.Methods;
using ChargeAudit.Comparing.Results;
using ChargeAudit.Logs;
using ChargeAudit.Metrology;
using ChargeAudit.Reports.Text;
using ChargeAudit.Studies;

namespace ChargeAudit.Reports.Model.Sections;

/// <summary>What was measured, and where the meters sat.</summary>
internal static class MeasuredSection
{
    /// <summary>The section.</summary>
    public static Section Of(AuditResult result)
    {
        var blocks = new List<Block> { new Paragraph(Device(result) + Runs(result)) };
        for (int i = 0; i < result.Methods.Count; i++)
        {
            blocks.Add(Draw(result, result.Methods[i], i));
        }

        blocks.Add(new DataTable(
            "Logs",
            [new("File"), new("Meter at"), new("Meter"), new("Rows", ColumnKind.Number), new("Rows left out", ColumnKind.Number),
                new("Length"), new("Between rows"), new("A row holds"), new("Power from")],
            [.. result.Logs.Select(l => (IReadOnlyList<string>)[
                string.Join(" + ", l.Files),
                l.Point is { } point ? Words.Place(point) : "not stated",
                l.Meter ?? "not named",
                FigureText.Count(l.Rows),
                FigureText.Count(l.RowsSkipped),
                FigureText.Duration(l.DurationS),
                FigureText.Plain(l.Layout.MedianIntervalS, "s", 3),
                Words.Samples(l.Layout.Samples),
                l.PowerFrom])])
        { Folded = result.Logs.Count > 6 });
        blocks.AddRange(ClockBlocks.Of(result));
        return new Section("measured", "What was measured, and how", blocks);
    }

    private static string Device(AuditResult result)
    {
        var device = result.Study.Device;
        string battery = device.BatteryWh is { } wh ? Prose.Of($", battery rated {wh:0.###} Wh") : "";
        return device.Name is { } name ? $"Device: {name}{battery}. " : "The study names no device. ";
    }

    private static string Runs(AuditResult result) => string.Join(" ", result.Methods.Select(m =>
    {
        int count = m.Runs.Count(r => r.Excluded is null);
        int left = m.Runs.Count - count;
        return $"{m.Name} ({Words.Kind(m.Kind)}): {FigureText.Count(count)} {(count == 1 ? "run" : "runs")}"
            + (left > 0 ? $", {FigureText.Count(left)} more left out." : ".");
    })) + " The pictures follow the energy of one charge from the wall inwards. A dashed box is a place where nothing was measured.";

    private static Chain Draw(AuditResult result, MethodResult method, int color)
    {
        var places = new List<ChainPlace>();
        var all = Enum.GetValues<MeasuringPoint>();
        for (int i = 0; i < all.Length; i++)
        {
            var at = all[i];
            string? energy = method.Points.TryGetValue(at, out var here) && here.EnergyPerCharge is { Value: { } value, Assumed: null }
                ? FigureText.Of(value)
                : null;
            string? stage = i + 1 < all.Length ? Words.Stage(at, all[i + 1], method.Kind) : null;
            var known = result.Stages.FirstOrDefault(s => s.Method == method.Name && s.From == at);
            string? loss = known is null ? null : Loss(known, method.Kind, i + 1 < all.Length && known.To == all[i + 1]);
            places.Add(new ChainPlace(Words.Place(at), energy, stage, loss));
        }

        return new Chain(method.Name, Words.Kind(method.Kind), color, places);
    }

    private static string Loss(StageResult stage, MethodKind kind, bool next)
    {
        string what = next ? "" : $"up to the {Words.Place(stage.To)} ({Words.Stage(stage.From, stage.To, kind)}): ";
        return stage.Loss.Value is { } loss
            ? $"{what}loses {FigureText.Of(loss)}"
                + (stage.Efficiency.Value is { } efficiency ? $"; efficiency {FigureText.Value(FigureText.Percent(efficiency))}" : "")
            : $"{what}loss not known: {stage.Loss.WhyNot}";
    }
}
