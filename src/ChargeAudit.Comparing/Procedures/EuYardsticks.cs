using ChargeAudit.Comparing.Runs;
using ChargeAudit.Metrology.Uncertainty;
using ChargeAudit.Studies;

namespace ChargeAudit.Comparing.Procedures;

/// <summary>
/// The European rules beside a method's figures. The limits of Regulation (EU) 2019/1782 are for an adapter with nothing connected: they
/// are never held against the wall power of a waiting pad, which is adapter and pad together. Regulation (EU) 2025/2052 asks for the pad
/// without its adapter.
/// </summary>
public static class EuYardsticks
{
    /// <summary>What there is to say about one method.</summary>
    /// <param name="kind">By cable, the charger waiting is the adapter alone.</param>
    /// <param name="wall">The method's figures at the wall; null where there are none.</param>
    /// <param name="usb">Its figures between adapter and cable or pad; null where there are none.</param>
    /// <param name="adapter">What is known about the adapter; null: nothing, and then its limits cannot be named.</param>
    /// <param name="averageEfficiency">Mean of the efficiencies at 25, 50, 75 and 100 % of the nameplate output; missing where not measured
    /// so. [1]</param>
    /// <param name="day">The day for which limits are looked up.</param>
    public static IReadOnlyList<YardstickFinding> Of(
        MethodKind kind, PointResult? wall, PointResult? usb, AdapterInfo? adapter, Figure averageEfficiency, DateOnly day)
    {
        var found = new List<YardstickFinding>();
        if (adapter is { OutputW: { } output, Kind: { } supply })
        {
            var alone = kind == MethodKind.Wired && wall is not null
                ? wall.NoLoadPower
                : Figure.None("the adapter was not logged with nothing connected; a waiting pad is adapter and pad together");
            string? doubt = MultipleDoubt(adapter);
            Add(found, Id(supply, "no-load"), output, alone, day, doubt);
            Add(found, Id(supply, "efficiency"), output, averageEfficiency, day, doubt);
        }

        if (kind == MethodKind.Inductive)
        {
            // A pad contains no power supply (2025/2052, article 2(6)): what goes into the pad counts, never adapter and pad together.
            var waiting = usb?.NoLoadPower
                ?? Figure.None("the power into the pad alone was not measured (at usb); at the wall it is adapter and pad together");
            Add(found, "eu-2023-826/standby", 0,
                Figure.None("the regulation does not cover charging pads, so it is named and nothing is compared"), day);
            Add(found, "eu-2025-2052/wireless-standby", 0, waiting, null);
        }

        return found;
    }

    /// <summary>The table's id of a limit for a supply.</summary>
    internal static string Id(SupplyKind kind, string what) => $"eu-2019-1782/{Key(kind)}/{what}";

    /// <summary>A kind of supply as the table's ids name it.</summary>
    public static string Key(SupplyKind kind) => kind switch
    {
        SupplyKind.AcAc => "ac-ac",
        SupplyKind.LowVoltage => "low-voltage",
        SupplyKind.MultipleVoltage => "multiple",
        _ => "ac-dc",
    };

    /// <summary>Why a supply called multiple may be none, as a sentence; null where it is not called so, or the study gives its outputs.
    /// <i>Source:</i> 2019/1782, article 2(3).</summary>
    public static string? MultipleDoubt(AdapterInfo adapter) => adapter is { Kind: SupplyKind.MultipleVoltage, Outputs: not >= 2 }
        ? "kind = \"multiple\" is for a supply with more than one output at the same time (article 2(3)); an adapter with one USB port "
            + "that switches its voltage is \"ac-dc\" or \"low-voltage\", with stricter limits. Give outputs = 2 or more under [adapter] "
            + "where it is right."
        : null;

    private static void Add(List<YardstickFinding> found, string id, double x, Figure value, DateOnly? day, string? doubt = null)
    {
        if (Yardsticks.At(id, x, day) is { } yardstick)
        {
            found.Add(Yardsticks.Compare(yardstick, x, value, doubt));
        }
    }
}
