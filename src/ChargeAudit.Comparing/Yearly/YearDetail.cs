using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.Comparing.Yearly;

/// <summary>What else a year of one method holds. Immutable.</summary>
public sealed record YearDetail
{
    /// <summary>Hours that the year is taken to have. [h]</summary>
    public required double HoursPerYear { get; init; }

    /// <summary>Usual charges in the year, over all devices.</summary>
    public required double ChargesPerYear { get; init; }

    /// <summary>The currency; null where there is no tariff.</summary>
    public Currency? Currency { get; init; }

    /// <summary>Energy of a usual charge. [Wh]</summary>
    public required Figure EnergyPerUsualCharge { get; init; }

    /// <summary>Cost of a usual charge, stand-by left out.</summary>
    public required Figure CostPerCharge { get; init; }

    /// <summary>Cost of the whole year by charge, stand-by included.</summary>
    public required Figure CostPerChargeWithStandby { get; init; }

    /// <summary>Energy in maintenance and with no device. [kWh]</summary>
    public required Figure StandbyEnergy { get; init; }

    /// <summary>Its share of the year's energy. [1]</summary>
    public required Figure StandbyShare { get; init; }

    /// <summary>What pulling the charger out between charges would save. [kWh]</summary>
    public required Saving Unplugging { get; init; }

    /// <summary>What it would save to take the device off when it is full as well. [kWh]</summary>
    public required Saving UnpluggingWhenFull { get; init; }

    /// <summary>Fixed charges of the tariff in a year, which no charger changes; missing where none are given.</summary>
    public required Figure FixedCharges { get; init; }

    /// <summary>Emissions of the year. [kg]</summary>
    public required Figure Co2 { get; init; }

    /// <summary>What moves the result, the strongest first; empty where the total is missing.</summary>
    public required IReadOnlyList<TornadoBar> Tornado { get; init; }

    /// <summary>Interval of the year's energy from random draws; null where an uncertainty is unknown, with the reason in
    /// <see cref="NoMonteCarloBecause"/>. [kWh]</summary>
    public MonteCarloInterval? EnergyMonteCarlo { get; init; }

    /// <summary>Interval of the year's cost from the same draws.</summary>
    public MonteCarloInterval? CostMonteCarlo { get; init; }

    /// <summary>Why there are no draws; null where there are.</summary>
    public string? NoMonteCarloBecause { get; init; }

    /// <summary>What was assumed because nothing else was stated, as sentences.</summary>
    public required IReadOnlyList<string> Assumptions { get; init; }
}

/// <summary>What a habit would save in a year.</summary>
/// <param name="Energy">[kWh]</param>
/// <param name="Cost">In the tariff's currency.</param>
public sealed record Saving(Figure Energy, Figure Cost);

/// <summary>One input varied alone between two values, everything else held.</summary>
/// <param name="What">The input, in words.</param>
/// <param name="Unit">Its unit.</param>
/// <param name="Low">The lower value tried.</param>
/// <param name="High">The higher value tried.</param>
/// <param name="ResultLow">The year's cost (energy where there is no tariff) at the lower value.</param>
/// <param name="ResultHigh">The same at the higher value.</param>
/// <param name="ResultUnit">Currency code, or kWh.</param>
/// <param name="Basis">Where the two values come from: the user's limits, the 95 % interval, or our assumption.</param>
public sealed record TornadoBar(
    string What, string Unit, double Low, double High, double ResultLow, double ResultHigh, string ResultUnit, string Basis)
{
    /// <summary>How far the result moves.</summary>
    public double Swing => Math.Abs(ResultHigh - ResultLow);
}

/// <summary>An interval from random draws. <i>Source:</i> JCGM 101:2008, 7.7 (probabilistically symmetric).</summary>
/// <param name="Low">Lower end.</param>
/// <param name="Median">Half of the draws lie below.</param>
/// <param name="High">Upper end.</param>
/// <param name="Coverage">Probability, 0 to 1.</param>
/// <param name="Draws">Number of draws.</param>
/// <param name="Seed">Seed of the draws.</param>
public sealed record MonteCarloInterval(double Low, double Median, double High, double Coverage, int Draws, int Seed);
