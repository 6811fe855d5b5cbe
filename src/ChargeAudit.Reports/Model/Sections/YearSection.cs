using System.Globalization;
using ChargeAudit.Analysis.Results;
using ChargeAudit.Analysis.Studies;
using ChargeAudit.Reports.Text;

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
                rows.Add([method.Name, Words.Mode(mode.Mode), FigureText.Plain(mode.HoursPerYear, "h"), Cells.Of(mode.Energy), Cells.Of(mode.Cost)]);
            }

            rows.Add([method.Name, "the whole year", method.Yearly.ByMode.Count > 0 ? FigureText.Plain(method.Yearly.ByMode.Sum(m => m.HoursPerYear), "h") : "not known", Cells.Of(method.Yearly.Energy), Cells.Of(method.Yearly.Cost)]);
        }

        return new Section("year", "A year",
        [
            .. Cells.Picture(keys, "year"),
            new DataTable(
                "A year at the wall",
                [new("Method"), new("What the charger does"), new("Time", ColumnKind.Number), new("Energy", ColumnKind.Number), new("Cost", ColumnKind.Number)],
                rows),
            new Paragraph("The use that this rests on:"),
            new Bullets([.. result.Study.Methods.Select(m => UseText(result.Study, m)), Price(result.Study.Tariff)]),
        ]);
    }

    private static string UseText(Study study, Method method)
    {
        double charges = method.Use?.ChargesPerWeek ?? study.Use.ChargesPerWeek;
        double share = method.Use?.ChargeSharePercent ?? study.Use.ChargeSharePercent;
        double? hours = method.Use?.HoursOnChargerPerCharge ?? study.Use.HoursOnChargerPerCharge;
        bool plugged = method.Use?.PluggedInAllDay ?? study.Use.PluggedInAllDay;
        return string.Create(CultureInfo.InvariantCulture, $"{method.Name}: {charges:0.##} charges a week, each {share:0.#} % of a full one; ")
            + (hours is { } h ? string.Create(CultureInfo.InvariantCulture, $"the device stays on the charger for {h:0.##} h each time; ") : "the device is taken off when it is full; ")
            + (plugged ? "the charger stays plugged in all day." : "the charger is unplugged when no device is on it.");
    }

    private static string Price(Tariff? tariff) => tariff is null
        ? "No price is given, so no cost is worked out."
        : string.Create(CultureInfo.InvariantCulture, $"Price of energy: {tariff.PricePerKwh:0.#####} {tariff.Currency} per kWh, taken as exact.");
}
