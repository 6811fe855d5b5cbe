namespace ChargeAudit.Simulation.Scenarios;

/// <summary>
/// A family of devices: each has a receiver and a battery of its own, and each pad suits it a little better or worse. Logarithms of the
/// factors are normal with these standard deviations; pads differ as their own tables say.
/// </summary>
/// <param name="Devices">How many. [1]</param>
/// <param name="ReceiverSpread">Spread of what the receivers take for one watt they deliver, as a share: nearly that of the overhead ratio
/// between devices. [1]</param>
/// <param name="BatterySpread">Spread of the batteries' energy, as a share. [1]</param>
/// <param name="InteractionSpread">Spread of how each pad suits each device, likewise on what the receivers take. [1]</param>
public sealed record FamilyModel(int Devices, double ReceiverSpread, double BatterySpread, double InteractionSpread)
{
    /// <summary>A draw reaches no further than this many spreads. [1]</summary>
    internal const double Reach = 3;
}
