using System.Text.Json;
using ChargeAudit.Coils;

namespace ChargeAudit.Reports.Json;

/// <summary>Two coupled coils as a document.</summary>
internal static class CoilsJson
{
    public static void Write(Utf8JsonWriter json, CoilReport report)
    {
        json.Number("primaryResonanceHz", report.PrimaryResonanceHz);
        json.Number("secondaryResonanceHz", report.SecondaryResonanceHz);
        json.Number("geometricMutualH", report.Data.GeometricMutualH);
        if (report.Link is not { } link)
        {
            json.Missing("link", $"still needed: {string.Join(", ", report.Data.Missing)}");
            return;
        }

        json.Object("link", () =>
        {
            json.Number("coupling", link.Coupling);
            json.Number("mutualH", link.MutualH);
            json.Number("figureOfMerit", link.FigureOfMerit);
            json.Number("maximumEfficiency", link.MaximumEfficiency);
            json.Object("tEquivalent", () =>
            {
                json.Number("primaryArmH", link.T.PrimaryArmH);
                json.Number("secondaryArmH", link.T.SecondaryArmH);
                json.Number("shuntH", link.T.ShuntH);
            });
        });
        json.Objects("circuits", report.Circuits, circuit => Circuit(json, circuit));
        if (report.Sweep is { } sweep)
        {
            json.Object("sweep", () =>
            {
                json.Number("loadOhm", sweep.LoadOhm);
                json.WriteBoolean("split", sweep.IsSplit);
                Numbers(json, "peaksHz", sweep.PeaksHz);
                Numbers(json, "zeroPhaseHz", sweep.ZeroPhaseHz);
            });
        }
    }

    private static void Circuit(Utf8JsonWriter json, CircuitFigures circuit)
    {
        json.WriteString("compensation", Metrology.StableName.Of(circuit.Circuit.Kind));
        json.Number("primaryF", circuit.Circuit.PrimaryF);
        json.Number("secondaryF", circuit.Circuit.SecondaryF);
        json.Number("bestLoadOhm", circuit.BestLoadOhm);
        json.Number("bestEfficiency", circuit.BestEfficiency);
        json.Number("loadOhm", circuit.LoadOhm);
        json.Number("efficiency", circuit.Efficiency);
        json.Number("inputOhm", circuit.InputOhm);
        json.Number("inputPhaseDegrees", circuit.InputPhaseDegrees);
        json.Number("voltageTransfer", circuit.VoltageTransfer);
        json.Number("openTransfer", circuit.OpenTransfer);
        json.Number("openPhaseDegrees", circuit.OpenPhaseDegrees);
        json.Number("shortPhaseDegrees", circuit.ShortPhaseDegrees);
    }

    private static void Numbers(Utf8JsonWriter json, string name, IEnumerable<double> values)
    {
        json.WriteStartArray(name);
        foreach (double value in values)
        {
            json.WriteNumberValue(value);
        }

        json.WriteEndArray();
    }
}
