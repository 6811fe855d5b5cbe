namespace ChargeAudit.Studies;

/// <summary>What one method's use differs in; null: as the study's.</summary>
/// <param name="ChargesPerWeek">Charges of each device in a week.</param>
/// <param name="ChargeSharePercent">Share of a full charge. [%]</param>
/// <param name="HoursOnChargerPerCharge">Hours on the charger each time, charge included. [h]</param>
/// <param name="PluggedInAllDay">Whether the charger stays in the socket.</param>
public sealed record UseOverride(
    double? ChargesPerWeek = null, double? ChargeSharePercent = null, double? HoursOnChargerPerCharge = null, bool? PluggedInAllDay = null)
{
    /// <summary>Limits of the charges per week.</summary>
    public NumberRange? ChargesPerWeekRange { get; init; }

    /// <summary>Devices that share the charger.</summary>
    public int? Devices { get; init; }

    /// <summary>Local time at which a charge starts.</summary>
    public TimeOnly? ChargingStart { get; init; }

    /// <summary>Days on which charges start.</summary>
    public IReadOnlyList<DayOfWeek>? ChargingDays { get; init; }

    /// <summary>The keys given for this method, by their names in the study file.</summary>
    public IReadOnlySet<string> Given { get; init; } = new HashSet<string>();
}
