namespace ChargeAudit.Studies;

/// <summary>How a charger is used over a week. The values that stand here are this program's own assumptions, not findings of
/// anybody.</summary>
public sealed record Use
{
    /// <summary>Charges of each device in a week, 0 or more. Default 7: a charge a day.</summary>
    public double ChargesPerWeek { get; init; } = 7;

    /// <summary>Limits of <see cref="ChargesPerWeek"/>; given, they widen the interval of the year. Null: the number is taken as it
    /// stands.</summary>
    public NumberRange? ChargesPerWeekRange { get; init; }

    /// <summary>Share of a full charge that a usual charge gives, above 0 to 100. [%]</summary>
    public double ChargeSharePercent { get; init; } = 100;

    /// <summary>Hours that a device lies on the charger each time, charge included; null: it is taken off when full. [h]</summary>
    public double? HoursOnChargerPerCharge { get; init; }

    /// <summary>Whether the charger stays in the socket when no device is on it.</summary>
    public bool PluggedInAllDay { get; init; } = true;

    /// <summary>Devices that share the charger, one after another, each with the same energy per charge. Default 1.</summary>
    public int Devices { get; init; } = 1;

    /// <summary>Local time at which a charge starts; matters where the price depends on the hour. Default 22:00: at night.</summary>
    public TimeOnly ChargingStart { get; init; } = new(22, 0);

    /// <summary>Days on which charges start, spread evenly over them; empty: every day.</summary>
    public IReadOnlyList<DayOfWeek> ChargingDays { get; init; } = [];

    /// <summary>Hours that a year is taken to have. Default 8 760.</summary>
    public YearLength Year { get; init; } = YearLength.Common;

    /// <summary>Which of these the user gave, by their names in the study file; the others are the program's defaults.</summary>
    public IReadOnlySet<string> Given { get; init; } = new HashSet<string>();
}
