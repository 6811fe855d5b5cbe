using ChargeAudit.Logs;
using ChargeAudit.Studies.Toml;

namespace ChargeAudit.Studies;

/// <summary>Reads what a check asks for from a study file.</summary>
internal static class CheckReader
{
    private static readonly (string Word, CheckedFigure Figure)[] Figures =
    [
        ("energy", CheckedFigure.EnergyPerCharge), ("no-load", CheckedFigure.NoLoadPower), ("maintenance", CheckedFigure.MaintenancePower),
        ("duration", CheckedFigure.ChargeDuration), ("peak", CheckedFigure.PeakPower),
    ];

    public static CheckRules Read(TomlTableReader table)
    {
        var margins = Margins(table);
        var pointMargins = new Dictionary<(MeasuringPoint Point, CheckedFigure Figure), double>();
        foreach (var (word, point) in MeterReader.Points)
        {
            if (table.Table(word) is { } own)
            {
                foreach (var (figure, margin) in Margins(own))
                {
                    pointMargins.Add((point, figure), margin);
                }

                own.Finish();
            }
        }

        var standard = new CheckRules();
        var named = table.Texts("figures");
        var rules = new CheckRules
        {
            Margin = Share(table, "margin", "2 %"),
            Margins = margins,
            PointMargins = pointMargins,
            Alpha = table.Number("alpha", CheckRules.LeastAlpha, CheckRules.GreatestAlpha),
            Figures = named.Count > 0 ? [.. named.Select(w => Figure(table, w)).Distinct().Order()] : standard.Figures,
            Repeatability = Share(table, "repeatability", "1 %"),
        };
        table.Finish();
        return rules;
    }

    private static Dictionary<CheckedFigure, double> Margins(TomlTableReader table)
    {
        var margins = new Dictionary<CheckedFigure, double>();
        foreach (var (word, figure) in Figures)
        {
            if (Share(table, $"{word}-margin", "2 %") is { } margin)
            {
                margins.Add(figure, margin);
            }
        }

        return margins;
    }

    private static double? Share(TomlTableReader table, string key, string example)
    {
        if (table.Text(key) is not { } text)
        {
            return null;
        }

        return PercentText.Parse(text) ?? throw table.Refuse(
            table.LineOf(key), $"{table.PathOf(key)} is \"{text}\"; per cent from 0 to below 100 were expected, such as \"{example}\"");
    }

    private static CheckedFigure Figure(TomlTableReader table, string word)
    {
        foreach (var (known, figure) in Figures)
        {
            if (known == word)
            {
                return figure;
            }
        }

        throw table.Refuse(
            table.LineOf("figures"), $"{table.PathOf("figures")} holds \"{word}\"; figures are {string.Join(", ", Figures.Select(f => f.Word))}");
    }
}
