namespace ChargeAudit.Simulation.Physics;

/// <summary>Where the power goes that does not reach the battery's chemistry. With <see cref="FlowStep.StoredW"/> they make up the power at
/// the wall.</summary>
/// <param name="AdapterW">Adapter. [W]</param>
/// <param name="CableW">Cable. [W]</param>
/// <param name="PadW">The pad's control and inverter. [W]</param>
/// <param name="PrimaryCoilW">Resistance of the pad's coil. [W]</param>
/// <param name="SecondaryCoilW">Resistance of the device's coil. [W]</param>
/// <param name="ReceiverW">Rectifier, regulator and control of the receiver. [W]</param>
/// <param name="ChargerW">Charger inside the device. [W]</param>
/// <param name="CellW">Resistance of the cell. [W]</param>
/// <param name="BackgroundW">What the device uses for itself; no loss of charging, yet drawn through it. [W]</param>
public readonly record struct PowerLosses(
    double AdapterW,
    double CableW,
    double PadW,
    double PrimaryCoilW,
    double SecondaryCoilW,
    double ReceiverW,
    double ChargerW,
    double CellW,
    double BackgroundW)
{
    /// <summary>All of them. [W]</summary>
    public double SumW => AdapterW + CableW + PadW + PrimaryCoilW + SecondaryCoilW + ReceiverW + ChargerW + CellW + BackgroundW;

    /// <summary>Warms the device. [W]</summary>
    public double InDeviceW => SecondaryCoilW + ReceiverW + ChargerW + CellW + BackgroundW;
}
