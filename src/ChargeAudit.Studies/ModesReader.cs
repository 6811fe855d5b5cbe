using ChargeAudit.Measuring.Segmentation;
using ChargeAudit.Metrology;
using ChargeAudit.Studies.Toml;

namespace ChargeAudit.Studies;

/// <summary>Reads <c>[modes]</c>: how the modes of the study's logs are told apart. What it does not say keeps its default.</summary>
internal static class ModesReader
{
    /// <summary>A study with what <c>[modes]</c> says.</summary>
    public static Study Into(Study study, TomlTableReader document) =>
        document.Table("modes") is { } table ? study with { Modes = Read(table) } : study;

    private static ModeOptions Read(TomlTableReader table)
    {
        var d = ModeOptions.Default;
        var modes = d with
        {
            LeastChargeS = Within(table, "least-charge", "s", "2 min", 10, 3600) ?? d.LeastChargeS,
            LongestPauseS = Within(table, "longest-pause", "s", "30 min", 0, 7200) ?? d.LongestPauseS,
            TopUpShare = table.Number("top-up-share", 0, 50) / 100 ?? d.TopUpShare,
            LeastChargePowerW = Within(table, "least-charge-power", "W", "1.2 W", 0.05, 10) ?? d.LeastChargePowerW,
            ZeroShareOfPlateau = table.Number("zero-share", 0, 1) / 100 ?? d.ZeroShareOfPlateau,
            PenaltyWeight = table.Number("penalty-weight", 0.5, 10) ?? d.PenaltyWeight,
        };
        table.Finish();
        return modes;
    }

    private static double? Within(TomlTableReader table, string key, string unit, string example, double least, double greatest)
    {
        if (QuantityText.Optional(table, key, unit, example) is not { } value)
        {
            return null;
        }

        return value >= least && value <= greatest
            ? value
            : throw table.Refuse(table.LineOf(key),
                InvariantText.Of(
                    $"{table.PathOf(key)} is \"{table.Text(key)}\"; it may lie between {least} {unit} and {greatest} {unit}, such as "
                + $"\"{example}\""));
    }
}
