using ChargeAudit.Logs;

namespace ChargeAudit.Reports.Charts;

/// <summary>Names of measuring points short enough for an axis.</summary>
internal static class StablePlace
{
    /// <summary>The name in the study file: <c>usb</c>.</summary>
    public static string Short(MeasuringPoint point) => Metrology.StableName.Of(point);
}
