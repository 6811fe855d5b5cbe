using ChargeAudit.Checking.Documents;
using ChargeAudit.Pooling.Planning;

namespace ChargeAudit.Reports.Json;

/// <summary>A plan of devices and runs in JSON.</summary>
public static class DevicesPlanJson
{
    /// <summary>The document; it ends with a line feed.</summary>
    /// <param name="aim">What is wanted.</param>
    /// <param name="choices">The ways to reach it.</param>
    public static string Of(DevicesAim aim, IReadOnlyList<DevicesChoice> choices)
    {
        ArgumentNullException.ThrowIfNull(aim);
        return ReportContext.Text(new DevicesPlanDocument(
            SchemaNames.PlanOfDevices,
            aim.OfAnotherDevice ? "another-device" : "mean",
            aim.Within,
            aim.Spread,
            aim.Repeatability,
            choices));
    }
}

/// <summary>A plan of devices and runs.</summary>
internal sealed record DevicesPlanDocument(
    string Schema, string Aim, double Within, double Spread, double Repeatability, IReadOnlyList<DevicesChoice> Choices);
