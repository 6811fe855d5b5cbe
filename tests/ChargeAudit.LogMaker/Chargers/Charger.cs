using ChargeAudit.LogMaker.Traces;

namespace ChargeAudit.LogMaker.Chargers;

/// <summary>One way of charging one device, with all that it draws; every figure of it follows by arithmetic.</summary>
public sealed record Charger
{
    /// <summary>Name of the method.</summary>
    public required string Name { get; init; }

    public required bool Inductive { get; init; }

    /// <summary>From the adapter's output to its input, in watts.</summary>
    public required Polynomial Adapter { get; init; }

    /// <summary>From what the device takes to the adapter's output while charging, in watts.</summary>
    public required Polynomial Link { get; init; }

    /// <summary>What the device takes during a charge of nominal length. [W]</summary>
    public required IReadOnlyList<Piece> Charge { get; init; }

    /// <summary>At the adapter's output with no device.</summary>
    public required Levels Waiting { get; init; }

    /// <summary>At the adapter's output with a full device.</summary>
    public required Levels Maintenance { get; init; }

    /// <summary>Bursts of the device's own load in each charge, at the adapter's output. [W]</summary>
    public double BurstW { get; init; }

    /// <summary>[s]</summary>
    public double BurstS { get; init; }

    public int BurstCount { get; init; }

    /// <summary>Of the adapter's output while charging and otherwise. [V]</summary>
    public required double ChargingV { get; init; }

    public required double IdleV { get; init; }

    /// <summary>Relative standard deviations between charges: of length, of power, and of the power when full. [1]</summary>
    public double LengthScatter { get; init; }

    public double PowerScatter { get; init; }

    public double MaintenanceScatter { get; init; }

    /// <summary>Length of a nominal charge. [s]</summary>
    public double ChargeS => Charge.Sum(p => p.LengthS);

    /// <summary>What a watt more at the output adds at a place, for bursts. [1]</summary>
    public double BurstFactor(Place place) => place == Place.Wall ? Adapter.Factors[1] : 1;

    /// <summary>Mean energy of very many charges: length and power scatter about 1 and independently, so their product has mean 1.
    /// [Wh]</summary>
    public double EnergyWh(Place place) =>
        (Charge.Sum(p => p.Through(MapTo(place)).IntegralTo(p.LengthS)) + (BurstCount * BurstS * BurstW * BurstFactor(place))) / 3600;

    /// <summary>[W]</summary>
    public double MaintenanceW(Place place) => At(Maintenance, place).MeanW;

    /// <summary>[W]</summary>
    public double NoLoadW(Place place) => At(Waiting, place).MeanW;

    public Polynomial MapTo(Place place) => place == Place.Wall ? Adapter.After(Link) : Link;

    public Levels At(Levels output, Place place) => place == Place.Wall ? output.Through(Adapter) : output;
}
