namespace ChargeAudit.Metrology.Units;

/// <summary>What a unit measures.</summary>
public enum UnitKind
{
    /// <summary>Voltage. [V]</summary>
    Voltage,

    /// <summary>Current. [A]</summary>
    Current,

    /// <summary>Real power. [W]</summary>
    Power,

    /// <summary>Apparent power. [VA]</summary>
    ApparentPower,

    /// <summary>Reactive power. [var]</summary>
    ReactivePower,

    /// <summary>Energy. [J]</summary>
    Energy,

    /// <summary>Apparent energy. [VA·s]</summary>
    ApparentEnergy,

    /// <summary>Reactive energy. [var·s]</summary>
    ReactiveEnergy,

    /// <summary>Electric charge. [C]</summary>
    Charge,

    /// <summary>Time. [s]</summary>
    Time,

    /// <summary>Temperature, in degrees Celsius. [°C]</summary>
    Temperature,

    /// <summary>Frequency. [Hz]</summary>
    Frequency,

    /// <summary>Resistance. [Ω]</summary>
    Resistance,

    /// <summary>Inductance. [H]</summary>
    Inductance,

    /// <summary>Capacitance. [F]</summary>
    Capacitance,

    /// <summary>Length. [m]</summary>
    Length,

    /// <summary>Angle. [°]</summary>
    Angle,

    /// <summary>Thermal resistance. [K/W]</summary>
    ThermalResistance,

    /// <summary>A share or ratio. [1]</summary>
    Ratio,
}
