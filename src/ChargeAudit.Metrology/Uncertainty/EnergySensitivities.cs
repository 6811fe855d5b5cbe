namespace ChargeAudit.Metrology.Uncertainty;

/// <summary>
/// The integrals of a log through which a meter's errors enter its energy. They are the derivatives themselves: ∂E/∂(gain) = E,
/// ∂E/∂(voltage offset) = ∫I dt, ∂E/∂(current offset) = ∫V dt, ∂E/∂(power offset) = the duration. That is why a log's summary keeps them.
/// </summary>
public sealed record EnergySensitivities
{
    /// <summary>Energy. [J]</summary>
    public required double EnergyJ { get; init; }

    /// <summary>Time that the energy covers. [s]</summary>
    public double DurationS { get; init; }

    /// <summary>∫V dt; zero where there is no voltage. [V s]</summary>
    public double VoltSeconds { get; init; }

    /// <summary>∫I dt; zero where there is no current. [C]</summary>
    public double ChargeC { get; init; }

    /// <summary>∫V·I dt where power comes through a power factor; zero where not. [VA s]</summary>
    public double ApparentJ { get; init; }

    /// <summary>Names the log, for errors that belong to one reading of it.</summary>
    public string LogId { get; init; } = "log";

    /// <summary>
    /// The part gathered while the reading of a quantity lay below a limit (both in coherent units), for accuracies that change with the
    /// reading. Null where
    /// it cannot be told: then the widest clause is taken for everything.
    /// </summary>
    public Func<LogQuantity, double, EnergySensitivities>? Below { get; init; }

    /// <summary>Real divided by apparent energy; 1 where no power factor was used. [1]</summary>
    public double MeanPowerFactor => ApparentJ == 0 ? 1 : EnergyJ / ApparentJ;

    internal EnergySensitivities Minus(EnergySensitivities other) => this with
    {
        EnergyJ = EnergyJ - other.EnergyJ,
        DurationS = DurationS - other.DurationS,
        VoltSeconds = VoltSeconds - other.VoltSeconds,
        ChargeC = ChargeC - other.ChargeC,
        ApparentJ = ApparentJ - other.ApparentJ,
    };
}
