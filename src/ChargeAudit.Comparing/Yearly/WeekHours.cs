using ChargeAudit.Measuring.Segmentation;

namespace ChargeAudit.Comparing.Yearly;

/// <summary>The hours of a week by mode. Every hour is in exactly one, so they add up to 168.</summary>
/// <param name="ChargeH">Charging. [h]</param>
/// <param name="MaintenanceH">Full and still on the charger. [h]</param>
/// <param name="NoLoadH">Charger in the socket, no device on it. [h]</param>
/// <param name="OffH">Charger out of the socket. [h]</param>
public readonly record struct WeekHours(double ChargeH, double MaintenanceH, double NoLoadH, double OffH)
{
    /// <summary>Hours of a week. [h]</summary>
    public const double Week = 168;

    /// <summary>The modes in the order in which a year is shown.</summary>
    public static IReadOnlyList<Mode> Modes { get; } = [Mode.Charge, Mode.Maintenance, Mode.NoLoad, Mode.Off];

    /// <summary>Hours in one mode. [h]</summary>
    public double this[Mode mode] => mode switch
    {
        Mode.Charge => ChargeH,
        Mode.Maintenance => MaintenanceH,
        Mode.NoLoad => NoLoadH,
        _ => OffH,
    };

    /// <summary>All hours; 168 but for rounding. [h]</summary>
    public double SumH => ChargeH + MaintenanceH + NoLoadH + OffH;
}
