using ChargeAudit.Coils;

namespace ChargeAudit.Simulation.Scenarios;

/// <summary>A coil with its data.</summary>
/// <param name="InductanceH">Inductance in place, with shielding. [H]</param>
/// <param name="Q">Quality factor at the operating frequency. [1]</param>
/// <param name="Geometry">Where its turns lie.</param>
public sealed record CoilModel(double InductanceH, double Q, CoilGeometry Geometry);

/// <summary>A charging pad and the receiver in the device: inverter, two coils compensated in series, rectifier.</summary>
public sealed record PadModel
{
    /// <summary>Name in the scenario.</summary>
    public required string Name { get; init; }

    /// <summary>Coil in the pad.</summary>
    public required CoilModel Primary { get; init; }

    /// <summary>Coil in the device.</summary>
    public required CoilModel Secondary { get; init; }

    /// <summary>Distance between the coils' facing layers. [m]</summary>
    public required double GapM { get; init; }

    /// <summary>Factor on the mutual inductance in air, from the shields behind both coils. [1]</summary>
    public double ShieldFactor { get; init; } = 1;

    /// <summary>Operating frequency. [Hz]</summary>
    public required double FrequencyHz { get; init; }

    /// <summary>Consumption of the pad's control while it powers a device. [W]</summary>
    public double ControlW { get; init; }

    /// <summary>Inverter loss as a share of what it delivers. [1]</summary>
    public double InverterShare { get; init; }

    /// <summary>Inverter loss for each square of the primary current. [Ω]</summary>
    public double InverterOhm { get; init; }

    /// <summary>Voltage after the rectifier. [V]</summary>
    public required double RectifiedV { get; init; }

    /// <summary>Voltage drop over the rectifier's two conducting elements. [V]</summary>
    public double RectifierDropV { get; init; }

    /// <summary>Consumption of the receiver's control. [W]</summary>
    public double ReceiverW { get; init; }

    /// <summary>Loss of the receiver's regulator as a share of what it delivers. [1]</summary>
    public double ReceiverShare { get; init; }

    /// <summary>Consumption with no device, between pulses. [W]</summary>
    public double WaitingW { get; init; }

    /// <summary>Extra power during a pulse that looks for a device. [W]</summary>
    public double PulseW { get; init; }

    /// <summary>Length of such a pulse. [s]</summary>
    public double PulseLengthS { get; init; }

    /// <summary>From one pulse's start to the next; 0: none. [s]</summary>
    public double PulseEveryS { get; init; }

    /// <summary>Coupling of the two coils.</summary>
    /// <param name="offsetM">Distance between their axes. [m]</param>
    /// <param name="gapM">Distance between their facing layers; null: the pad's own. [m]</param>
    /// <returns>Coupling coefficient. [1]</returns>
    public double Coupling(double offsetM, double? gapM = null) =>
        ShieldFactor * Primary.Geometry.MutualInductance(Secondary.Geometry, gapM ?? GapM, offsetM)
            / Math.Sqrt(Primary.InductanceH * Secondary.InductanceH);
}
