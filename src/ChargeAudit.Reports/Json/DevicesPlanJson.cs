using ChargeAudit.Pooling.Planning;

namespace ChargeAudit.Reports.Json;

/// <summary>A plan of devices and runs in JSON.</summary>
public static class DevicesPlanJson
{
    /// <summary>Name and version of the document.</summary>
    public const string Schema = "chargeaudit-plan-devices/1";

    /// <summary>The document; it ends with a line feed.</summary>
    /// <param name="aim">What is wanted.</param>
    /// <param name="choices">The ways to reach it.</param>
    public static string Of(DevicesAim aim, IReadOnlyList<DevicesChoice> choices) => JsonText.Document(Schema, json =>
    {
        json.WriteString("aim", aim.OfAnotherDevice ? "another-device" : "mean");
        json.WriteNumber("within", aim.Within);
        json.WriteNumber("spread", aim.Spread);
        json.WriteNumber("repeatability", aim.Repeatability);
        json.Objects("choices", choices, c =>
        {
            json.WriteNumber("runs", c.Runs);
            json.WriteNumber("devices", c.Devices);
            json.WriteNumber("halfWidth", c.HalfWidth);
            json.WriteNumber("cost", c.Cost);
        });
    });
}
