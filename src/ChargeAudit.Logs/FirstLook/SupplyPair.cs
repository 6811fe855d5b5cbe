using System.Text.RegularExpressions;
using ChargeAudit.Logs.Columns;
using ChargeAudit.Metrology;

namespace ChargeAudit.Logs.FirstLook;

/// <summary>
/// Of several voltages and currents, two that belong together: the voltage of one outlet times the current of another is no power. Columns
/// belong together where their headers say the same beside the quantity.
/// </summary>
internal static partial class SupplyPair
{
    /// <summary>A column that may be taken.</summary>
    /// <param name="Index">Its place.</param>
    /// <param name="Name">Its header without the unit.</param>
    /// <param name="StandsStill">Whether all its fields are alike.</param>
    public sealed record Column(int Index, string Name, bool StandsStill);

    /// <summary>The pair to take.</summary>
    /// <param name="voltages">Voltages, none preferred by its words.</param>
    /// <param name="currents">Currents likewise.</param>
    /// <returns>Null where the choice is free or no two belong together.</returns>
    public static (int? Voltage, int? Current) Of(Column[] voltages, Column[] currents)
    {
        if (voltages.Length == 0 || currents.Length == 0 || voltages.Length + currents.Length < 3
            || BelongTogether(voltages[0].Name, currents[0].Name))
        {
            return (null, null);
        }

        var pairs = voltages.SelectMany(v => currents.Select(c => (V: v, C: c))).Where(p => BelongTogether(p.V.Name, p.C.Name))
            .OrderBy(p => (p.V.StandsStill ? 1 : 0) + (p.C.StandsStill ? 1 : 0)).ThenBy(p => p.C.Index).ToList();
        return pairs.Count == 0 ? (null, null) : (pairs[0].V.Index, pairs[0].C.Index);
    }

    private static bool BelongTogether(string voltage, string current)
    {
        string[] ofV = Rest(voltage), ofA = Rest(current);
        return ofV.Length == ofA.Length && ofV.Zip(ofA).All(w => w.First == w.Second || AreSigns(w.First, w.Second));
    }

    // Uout and Iout, V1 and A1: a letter for the quantity before the rest.
    private static bool AreSigns(string voltage, string current) => voltage.Length > 1 && voltage[0] is 'u' or 'v'
        && current[0] is 'i' or 'a' && voltage.AsSpan(1).SequenceEqual(current.AsSpan(1));

    private static string[] Rest(string name) =>
    [
        .. Word().Matches(PlainText.Fold(name)).Select(m => m.Value).Where(w => HeaderWords.Find(w).Quantity == LogQuantity.Ignored),
    ];

    [GeneratedRegex(@"[\p{L}\p{N}]+")]
    private static partial Regex Word();
}
