namespace ChargeAudit.Coils;

/// <summary>What one way of compensation does at the operating frequency.</summary>
/// <param name="Circuit">Coils and capacitors.</param>
/// <param name="LoadOhm">The load looked at: the given one, or the best. [Ω]</param>
/// <param name="BestLoadOhm">The load with the best efficiency. [Ω]</param>
/// <param name="BestEfficiency">Efficiency with that load. [1]</param>
/// <param name="Efficiency">Efficiency with the load looked at. [1]</param>
/// <param name="InputOhm">Magnitude of the input impedance with it. [Ω]</param>
/// <param name="InputPhaseDegrees">Its phase; above zero the current lags. [°]</param>
/// <param name="VoltageTransfer">Load voltage over input voltage with it. [1]</param>
/// <param name="OpenTransfer">The same with no load. [1]</param>
/// <param name="OpenPhaseDegrees">Input phase with no load. [°]</param>
/// <param name="ShortPhaseDegrees">Input phase with a short. [°]</param>
public sealed record CircuitFigures(
    CompensatedLink Circuit,
    double LoadOhm,
    double BestLoadOhm,
    double BestEfficiency,
    double Efficiency,
    double InputOhm,
    double InputPhaseDegrees,
    double VoltageTransfer,
    double OpenTransfer,
    double OpenPhaseDegrees,
    double ShortPhaseDegrees)
{
    /// <summary>Works the figures out.</summary>
    /// <param name="circuit">The circuit.</param>
    /// <param name="loadOhm">The load; null: the best. [Ω]</param>
    /// <returns>The figures.</returns>
    public static CircuitFigures Of(CompensatedLink circuit, double? loadOhm)
    {
        ArgumentNullException.ThrowIfNull(circuit);
        double f = circuit.Link.FrequencyHz;
        double best = circuit.BestLoadOhm;
        double load = loadOhm ?? best;
        return new CircuitFigures(
            circuit,
            load,
            best,
            circuit.Efficiency(f, best),
            circuit.Efficiency(f, load),
            circuit.InputImpedance(f, load).Magnitude,
            circuit.InputPhaseDegrees(f, load),
            circuit.VoltageTransfer(f, load).Magnitude,
            circuit.VoltageTransfer(f, double.PositiveInfinity).Magnitude,
            circuit.InputPhaseDegrees(f, double.PositiveInfinity),
            circuit.InputPhaseDegrees(f, 0));
    }
}
