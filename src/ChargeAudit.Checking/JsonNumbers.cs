using System.Text.Json;
using ChargeAudit.Metrology.Units;

namespace ChargeAudit.Checking;

/// <summary>Numbers in a JSON document that somebody else may have written.</summary>
internal static class JsonNumbers
{
    /// <summary>Whether every number in it can be meant, however deeply it is nested.</summary>
    /// <param name="element">The document, or a part of it.</param>
    public static bool CanAllBeMeant(JsonElement element) => element.ValueKind switch
    {
        JsonValueKind.Number => element.TryGetDouble(out double number) && NumberLimits.CanBeMeant(number)
            && (number == 0 || NumberLimits.Meant(number) != 0),
        JsonValueKind.Array => element.EnumerateArray().All(CanAllBeMeant),
        JsonValueKind.Object => element.EnumerateObject().All(p => CanAllBeMeant(p.Value)),
        _ => true,
    };
}
