using ChargeAudit.Comparing.Methods;
using ChargeAudit.Comparing.Results;
using ChargeAudit.Comparing.Yearly;
using ChargeAudit.Metrology;
using ChargeAudit.Reports.Text;
using ChargeAudit.Studies;

namespace ChargeAudit.Reports.Model.Sections;

/// <summary>A year of use, by mode.</summary>
internal static class YearSection
{
    /// <summary>The section.</summary>
    public static Section Of(AuditResult result, IReadOnlySet<string> keys)
    {
        var rows = new List<IReadOnlyList<string>>();
        foreach (var method in result.Methods)
        {
            foreach (var mode in method.Yearly.ByMode)
            {
                rows.Add([method.Name, Words.Mode(mode.Mode), FigureText.Plain(mode.HoursPerYear, "h", 4), Cells.Of(mode.Energy),
                    Cells.Of(mode.Cost)]);
            }

            rows.Add(
                [method.Name, "the whole year", method.Yearly.ByMode.Count > 0
                ? FigureText.Plain(method.Yearly.ByMode.Sum(m => m.HoursPerYear), "h", 4)
                : "not known", Cells.Of(method.Yearly.Energy), Cells.Of(method.Yearly.Cost)]);
        }

        var blocks = new List<Block>(Cells.Picture(keys, "year"))
        {
            new DataTable(
                "A year at the wall",
                [new("Method"), new("State"), new("Time", ColumnKind.Number), new("Energy", ColumnKind.Number),
                    new("Cost", ColumnKind.Number)],
                rows),
        };
        if (result.Methods.Any(m => m.Yearly.Detail is not null))
        {
            blocks.Add(Details(result));
        }

        blocks.AddRange(YearComparisonBlocks.Of(result));
        blocks.AddRange(Cells.Picture(keys, "year-moves"));
        blocks.AddRange(result.Methods.Where(m => m.Yearly.Detail?.Tornado.Count > 0).Select(Moves));
        blocks.Add(new Paragraph("This rests on the following use:"));
        blocks.Add(new Bullets(
        [
            .. result.Study.Methods.Select(m => UseText(result.Study, m)),
            TariffText.Of(result.Study.Tariff),
            .. YearAssumptions.Of(result),
        ]));
        return new Section("year", "A year", blocks);
    }

    private static DataTable Details(AuditResult result)
    {
        var methods = result.Methods.Where(m => m.Yearly.Detail is not null).ToList();
        IReadOnlyList<string> Row(string what, Func<YearDetail, string> of) => [what, .. methods.Select(m => of(m.Yearly.Detail!))];
        return new DataTable(
            "More of a year",
            [new("What"), .. methods.Select(m => new Column(m.Name, ColumnKind.Number))],
            [
                Row("Usual charges", d => FigureText.Plain(d.ChargesPerYear, "", 4)),
                Row("Energy of a usual charge", d => Cells.Of(d.EnergyPerUsualCharge)),
                Row("Cost of a usual charge", d => Cells.Of(d.CostPerCharge)),
                Row("Cost of the year per charge, stand-by included", d => Cells.Of(d.CostPerChargeWithStandby)),
                Row("Stand-by in the year", d => Cells.Of(d.StandbyEnergy)),
                Row("Stand-by as a share of the year's energy", d => Cells.Percent(d.StandbyShare)),
                Row("Saved by unplugging between charges", d => Saving(d.Unplugging)),
                Row("Saved by also taking the device off when full", d => Saving(d.UnpluggingWhenFull)),
                Row("Fixed charges of the tariff, which no charger changes", d => Cells.Of(d.FixedCharges)),
                Row("Emissions (CO\u2082)", d => Cells.Of(d.Co2)),
            ]);
    }

    private static string Saving(Saving saving) => saving.Energy.Value is null || saving.Cost.Value is null
        ? Cells.Of(saving.Energy)
        : $"{Cells.Of(saving.Energy)}, {Cells.Of(saving.Cost)}";

    private static DataTable Moves(MethodResult method) => new(
        $"What changes a year of charging {PlainWords.Charging(method.Name, method.Kind)} most: one input at a time, all others held",
        [new("Input"), new("From", ColumnKind.Number), new("To", ColumnKind.Number), new("The year then", ColumnKind.Number),
            new("Where the two values come from")],
        [.. method.Yearly.Detail!.Tornado.Select(b => (IReadOnlyList<string>)[
            b.What,
            FigureText.Plain(b.Low, b.Unit, 3),
            FigureText.Plain(b.High, b.Unit, 3),
            $"{FigureText.Plain(b.ResultLow, "", 3)} to {FigureText.Plain(b.ResultHigh, b.ResultUnit, 3)}",
            b.Basis])])
    {
        Folded = true,
    };

    private static string UseText(Study study, Method method)
    {
        var (use, own) = (study.Use, method.Use);
        double charges = own?.ChargesPerWeek ?? use.ChargesPerWeek;
        double share = own?.ChargeSharePercent ?? use.ChargeSharePercent;
        double? hours = own?.HoursOnChargerPerCharge ?? use.HoursOnChargerPerCharge;
        bool plugged = own?.PluggedInAllDay ?? use.PluggedInAllDay;
        int devices = own?.Devices ?? use.Devices;
        return Prose.Of($"{method.Name}: {charges:0.##} charges a week, each {share:0.#} % of a full one; ")
            + (devices > 1 ? InvariantText.Of($"{devices} devices share the charger; ") : "")
            + (hours is { } h ? Prose.Of($"the device stays on the charger for {h:0.##} h each time; ")
                : "the device is taken off when it is full; ")
            + (plugged ? "the charger stays plugged in all day." : "the charger is unplugged when no device is on it.");
    }
}
