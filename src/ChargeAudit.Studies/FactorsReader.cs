using ChargeAudit.Metrology;
using ChargeAudit.Studies.Toml;

namespace ChargeAudit.Studies;

/// <summary>Reads <c>factors</c> of a run and <c>[placement]</c>: where the device lay, and what is asked of it.</summary>
internal static class FactorsReader
{
    private static readonly (Factor Factor, string Unit, string Example, double Least, double Greatest)[] Numbers =
    [
        (Factor.OffsetX, "mm", "4 mm", -1000, 1000),
        (Factor.OffsetY, "mm", "-4 mm", -1000, 1000),
        (Factor.Gap, "mm", "3 mm", 0, 1000),
        (Factor.Rotation, "deg", "15 deg", -360, 360),
        (Factor.PowerLevel, "W", "15 W", 0, 100_000),
        (Factor.Temperature, "°C", "23 °C", -90, 150),
    ];

    /// <summary>The factors of a run.</summary>
    public static RunFactors Of(TomlTableReader run)
    {
        if (run.Table("factors") is not { } table)
        {
            return RunFactors.None;
        }

        var values = new Dictionary<Factor, double>();
        foreach (var (factor, unit, example, least, greatest) in Numbers)
        {
            string key = StableName.Of(factor);
            if (QuantityText.OptionalSigned(table, key, unit, example) is not { } value)
            {
                continue;
            }

            string shown = RunFactors.UnitOf(factor);
            values.Add(factor, value >= least && value <= greatest
                ? value
                : throw table.Refuse(table.LineOf(key),
                    InvariantText.Of(
                        $"{table.PathOf(key)} is \"{table.Text(key)}\"; it may lie between {least} {shown} and {greatest} {shown}, such as "
                    + $"\"{example}\"")));
        }

        string? box = table.Text("case");
        if (box is not null && string.IsNullOrWhiteSpace(box))
        {
            throw table.Refuse(table.LineOf("case"), $"{table.PathOf("case")} is empty; name the case, such as \"none\" or \"silicone\"");
        }

        table.Finish();
        return new RunFactors(values, box?.Trim());
    }

    /// <summary>A study with what <c>[placement]</c> says.</summary>
    public static Study Into(Study study, TomlTableReader document)
    {
        if (document.Table("placement") is not { } table)
        {
            return study;
        }

        var rules = new PlacementRules();
        if (table.Text("rise") is { } text)
        {
            rules = PercentText.Parse(text) is { } rise && PlacementRules.IsRise(rise)
                ? rules with { Rise = rise }
                : throw table.Refuse(table.LineOf("rise"),
                    $"{table.PathOf("rise")} is \"{text}\"; per cent from 0.1 to below 100 were expected, such as \"5 %\"");
        }

        table.Finish();
        return study with { Placement = rules };
    }
}
