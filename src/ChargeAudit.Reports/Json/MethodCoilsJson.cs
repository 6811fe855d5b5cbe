using System.Text.Json;
using ChargeAudit.Comparing.Methods;
using ChargeAudit.Studies;

namespace ChargeAudit.Reports.Json;

/// <summary>A pad's measured efficiency beside its coils' best, as a member of its method.</summary>
internal static class MethodCoilsJson
{
    public static void Write(Utf8JsonWriter json, MethodResult method)
    {
        if (method.Coils is not { } coils)
        {
            json.Missing("coils", method.Kind == MethodKind.Wired ? "charging is by cable" : "the study says nothing of the coils");
            return;
        }

        json.Object("coils", () =>
        {
            json.Number("coupling", coils.Link.Coupling);
            json.Number("figureOfMerit", coils.Link.FigureOfMerit);
            json.Number("possibleEfficiency", coils.PossibleEfficiency);
            json.Figure("measuredEfficiency", coils.MeasuredEfficiency);
            json.Figure("coilLoss", coils.CoilLoss);
            json.Figure("rest", coils.Rest);
            json.WriteBoolean("contradicts", coils.Contradicts);
        });
    }
}
