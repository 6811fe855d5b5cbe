using ChargeAudit.Comparing.Runs;
using ChargeAudit.Metrology.Uncertainty;
using ChargeAudit.Studies;

namespace ChargeAudit.Comparing.Procedures;

/// <summary>
/// The European rules beside a method's figures. The limits of Regulation (EU) 2019/1782 are for an adapter with nothing connected: they are never
/// held against the wall power of a waiting pad, which is adapter and pad together.
/// </summary>
public static class EuYardsticks
{
    /// <summary>What there is to say of one method.</summary>
    /// <param name="kind">By cable, the charger waiting is the adapter alone.</param>
    /// <param name="wall">The method's figures at the wall; null where there are none.</param>
    /// <param name="adapter">What is known of the adapter; null: nothing, and then its limits cannot be named.</param>
    /// <param name="averageEfficiency">Mean of the efficiencies at 25, 50, 75 and 100 % of the nameplate output; missing where not measured so. [1]</param>
    /// <param name="day">The day for which limits are looked up.</param>
    public static IReadOnlyList<YardstickFinding> Of(
        MethodKind kind, PointResult? wall, AdapterInfo? adapter, Figure averageEfficiency, DateOnly day)
    {
        var found = new List<YardstickFinding>();
        if (adapter is { OutputW: { } output, Kind: { } supply })
        {
            var alone = kind == MethodKind.Wired && wall is not null
                ? wall.NoLoadPower
                : Figure.None("the adapter was not logged with nothing connected; a waiting pad is adapter and pad together");
            Add(found, $"eu-2019-1782/{Key(supply)}/no-load", output, alone, day);
            Add(found, $"eu-2019-1782/{Key(supply)}/efficiency", output, averageEfficiency, day);
        }

        if (kind == MethodKind.Inductive)
        {
            var waiting = wall?.NoLoadPower ?? Figure.None("it was not measured at the wall");
            Add(found, "eu-2023-826/standby", 0, Figure.None("the regulation does not cover charging pads, so it is named and nothing is compared"), day);
            Add(found, "eu-2025-2052/wireless-standby", 0, waiting, null);
        }

        return found;
    }

    /// <summary>The words of a kind of supply in the table's ids.</summary>
    public static string Key(SupplyKind kind) => kind switch
    {
        SupplyKind.AcAc => "ac-ac",
        SupplyKind.LowVoltage => "low-voltage",
        SupplyKind.MultipleVoltage => "multiple",
        _ => "ac-dc",
    };

    private static void Add(List<YardstickFinding> found, string id, double x, Figure value, DateOnly? day)
    {
        if (Yardsticks.At(id, x, day) is { } yardstick)
        {
            found.Add(Yardsticks.Compare(yardstick, x, value));
        }
    }
}
