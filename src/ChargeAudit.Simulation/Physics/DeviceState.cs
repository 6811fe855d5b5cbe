using ChargeAudit.Simulation.Scenarios;

namespace ChargeAudit.Simulation.Physics;

/// <summary>What the device's charger is doing.</summary>
internal enum ChargeStage
{
    /// <summary>A small current wakes a deeply discharged cell.</summary>
    Trickle,

    /// <summary>Constant current.</summary>
    ConstantCurrent,

    /// <summary>Constant voltage.</summary>
    ConstantVoltage,

    /// <summary>Ended; the battery is full.</summary>
    Ended,
}

/// <summary>The state of a device on a charger.</summary>
/// <param name="Share">State of charge. [1]</param>
/// <param name="Stage">What its charger is doing.</param>
/// <param name="EndVoltageV">Open-circuit voltage when the charger last ended. [V]</param>
/// <param name="TemperatureC">Its temperature. [°C]</param>
/// <param name="Throttled">Whether it asks for less because it is warm.</param>
internal readonly record struct DeviceState(double Share, ChargeStage Stage, double EndVoltageV, double TemperatureC, bool Throttled)
{
    /// <summary>A device that has just been put on, at room temperature.</summary>
    public static DeviceState Fresh(DeviceModel device, double share) =>
        new(share, ChargeStage.ConstantCurrent, double.NaN, device.AmbientC, false);
}

/// <summary>What a device takes during one step.</summary>
/// <param name="InputW">Power into it. [W]</param>
/// <param name="BatteryV">At the battery's terminals. [V]</param>
/// <param name="BatteryA">Into the battery. [A]</param>
/// <param name="StoredW">Growth of the energy in the chemistry. [W]</param>
/// <param name="ChargerW">Loss of its charger. [W]</param>
/// <param name="CellW">Loss in the cell's resistance. [W]</param>
/// <param name="BackgroundW">Used for itself. [W]</param>
/// <param name="After">Its state afterwards; the temperature is not yet updated.</param>
internal readonly record struct DeviceStep(
    double InputW, double BatteryV, double BatteryA, double StoredW, double ChargerW, double CellW, double BackgroundW, DeviceState After);
