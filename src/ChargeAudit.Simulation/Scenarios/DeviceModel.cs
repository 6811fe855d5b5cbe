namespace ChargeAudit.Simulation.Scenarios;

/// <summary>
/// An invented device: a battery of one cell voltage, its charger, its own consumption and its heat. Typical values and where they come
/// from stand in docs/simulate.md.
/// </summary>
public sealed record DeviceModel
{
    /// <summary>Name for people.</summary>
    public required string Name { get; init; }

    /// <summary>Energy between empty and full at no current, the integral of open-circuit voltage over charge. [Wh]</summary>
    public required double BatteryWh { get; init; }

    /// <summary>Open-circuit voltage over state of charge.</summary>
    public required OpenCircuitCurve Curve { get; init; }

    /// <summary>Resistance of cell, tabs and protection together. [Ω]</summary>
    public required double CellOhm { get; init; }

    /// <summary>Constant current of the first stage. [A]</summary>
    public required double ChargeCurrentA { get; init; }

    /// <summary>Constant voltage of the second stage. [V]</summary>
    public required double ChargeVoltageV { get; init; }

    /// <summary>Current at which the second stage ends. [A]</summary>
    public required double TerminationCurrentA { get; init; }

    /// <summary>Below this open-circuit voltage the cell gets the trickle current only. [V]</summary>
    public double TrickleBelowV { get; init; } = 3.0;

    /// <summary>Current of the trickle stage. [A]</summary>
    public required double TrickleCurrentA { get; init; }

    /// <summary>How far the open-circuit voltage falls after the end before the charger starts again; 0: never. [V]</summary>
    public double TopUpDropV { get; init; }

    /// <summary>What the battery itself feeds once the charger has ended. [W]</summary>
    public double DrainWhenFullW { get; init; }

    /// <summary>Mean of the device's own consumption while on the charger, without bursts. [W]</summary>
    public double BackgroundW { get; init; }

    /// <summary>Relative standard deviation of that consumption from second to second. [1]</summary>
    public double BackgroundSpread { get; init; } = 0.1;

    /// <summary>Extra power of a burst, such as a radio that looks for messages. [W]</summary>
    public double BurstW { get; init; }

    /// <summary>Mean time between bursts. [s]</summary>
    public double BurstEveryS { get; init; } = 300;

    /// <summary>Length of a burst. [s]</summary>
    public double BurstLengthS { get; init; } = 5;

    /// <summary>Fixed consumption of the charger inside the device. [W]</summary>
    public double ChargerFixedW { get; init; }

    /// <summary>Loss of that charger as a share of what it delivers. [1]</summary>
    public double ChargerShare { get; init; }

    /// <summary>Loss of that charger for each square of the battery current. [Ω]</summary>
    public double ChargerOhm { get; init; }

    /// <summary>Warming of the device by its losses. [K/W]</summary>
    public double ThermalKPerW { get; init; } = 6;

    /// <summary>Time constant of that warming. [s]</summary>
    public double ThermalTimeS { get; init; } = 900;

    /// <summary>Temperature of the room. [°C]</summary>
    public double AmbientC { get; init; } = 22;

    /// <summary>Above this the device asks for less; positive infinity: never. [°C]</summary>
    public double ThrottleAboveC { get; init; } = double.PositiveInfinity;

    /// <summary>Below this it asks for full power again. [°C]</summary>
    public double ResumeBelowC { get; init; } = double.PositiveInfinity;

    /// <summary>What it draws between them. [W]</summary>
    public double ThrottledW { get; init; } = double.PositiveInfinity;
}
