namespace ChargeAudit.Simulation.Scenarios;

/// <summary>A mains adapter: what it delivers and what it loses, P₀ + a·P + r·I².</summary>
public sealed record AdapterModel
{
    /// <summary>Name in the scenario.</summary>
    public required string Name { get; init; }

    /// <summary>Output with no load. [V]</summary>
    public required double OutputV { get; init; }

    /// <summary>Drop of the output voltage for each ampere of current. [Ω]</summary>
    public double SourceOhm { get; init; }

    /// <summary>Consumption with nothing at its output. [W]</summary>
    public required double NoLoadW { get; init; }

    /// <summary>Loss as a share of what it delivers. [1]</summary>
    public double Share { get; init; }

    /// <summary>Loss for each square of its output current, that of the voltage drop included. [Ω]</summary>
    public double LossOhm { get; init; }

    /// <summary>Power factor far above <see cref="HalfPowerFactorW"/>. [1]</summary>
    public double PowerFactor { get; init; } = 0.6;

    /// <summary>Input power at which half of that power factor is reached; below it the mains filter's capacitor dominates. [W]</summary>
    public double HalfPowerFactorW { get; init; } = 0.8;
}
