using ChargeAudit.Logs;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Statistics;
using ChargeAudit.Studies.Toml;

namespace ChargeAudit.Studies;

/// <summary>Reads what a check asks for from a study file.</summary>
internal static class CheckReader
{
    private static readonly (string Word, CheckedFigure Figure)[] Figures =
    [
        ("energy", CheckedFigure.EnergyPerCharge), ("no-load", CheckedFigure.NoLoadPower), ("maintenance", CheckedFigure.MaintenancePower),
        ("duration", CheckedFigure.ChargeDuration), ("peak", CheckedFigure.PeakPower), ("overhead", CheckedFigure.OverheadRatio),
    ];

    private static readonly (string Word, SpendingRule Rule)[] Spendings =
        [("obrien-fleming", SpendingRule.OBrienFleming), ("pocock", SpendingRule.Pocock)];

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
            Looks = Looks(table),
            Spending = table.Choice("spending", Spendings) ?? standard.Spending,
        };
        if (rules.Looks.Count == 0 && table.Has("spending"))
        {
            throw table.Refuse(
                table.LineOf("spending"),
                    $"{table.PathOf("spending")} spreads a level over looks, and none are planned; add looks = [3, 6, 9]");
        }

        table.Finish();
        return rules;
    }

    private static List<int> Looks(TomlTableReader table)
    {
        var looks = table.Numbers("looks");
        return looks.Any(n => n != Math.Floor(n) || n is < 2 or > 1000) || looks.Zip(looks.Skip(1)).Any(p => p.First >= p.Second)
            || looks.Count is 1 or > CheckRules.MostLooks
            ? throw table.Refuse(
                table.LineOf("looks"),
                InvariantText.Of(
                    $"{table.PathOf("looks")} is [{string.Join(", ", looks)}]; two to {CheckRules.MostLooks} rising numbers of the "
                    + $"candidate's runs were expected, from 2 up, such as [3, 6, 9]"))
            : [.. looks.Select(n => (int)n)];
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
            table.LineOf("figures"),
                $"{table.PathOf("figures")} holds \"{word}\"; figures are {string.Join(", ", Figures.Select(f => f.Word))}");
    }
}
