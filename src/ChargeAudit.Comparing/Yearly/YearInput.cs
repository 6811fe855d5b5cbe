using ChargeAudit.Comparing.Runs;
using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.Comparing.Yearly;

/// <summary>What a year of one method is worked out from. Everything is at the wall: see <c>WallEnergy</c> where only the DC side was
/// measured.</summary>
public sealed record YearInput
{
    /// <summary>Energy of a full charge at the wall. [Wh]</summary>
    public required Figure EnergyPerCharge { get; init; }

    /// <summary>Time of a full charge; not above zero where it is not known. [s]</summary>
    public required double ChargeDurationS { get; init; }

    /// <summary>Power at the wall while full and still connected. [W]</summary>
    public required Figure MaintenancePower { get; init; }

    /// <summary>Power at the wall while waiting with no device. [W]</summary>
    public required Figure NoLoadPower { get; init; }

    /// <summary>How the charger is used.</summary>
    public required UseProfile Use { get; init; }

    /// <summary>The price of energy; null: cost is missing.</summary>
    public PreparedTariff? Tariff { get; init; }

    /// <summary>Emissions per energy; null: not worked out.</summary>
    public PreparedCarbon? Carbon { get; init; }

    /// <summary>Draws of the Monte Carlo interval; 0: none.</summary>
    public int Draws { get; init; } = 20_000;

    /// <summary>Seed of those draws: the same seed gives the same interval.</summary>
    public int Seed { get; init; } = 20_270_101;

    /// <summary>The input of a method that was measured, or derived, at the wall.</summary>
    /// <param name="wall">Its figures at the wall.</param>
    /// <param name="use">How it is used.</param>
    /// <param name="tariff">The price of energy.</param>
    /// <param name="carbon">Emissions per energy.</param>
    public static YearInput From(PointResult wall, UseProfile use, PreparedTariff? tariff = null, PreparedCarbon? carbon = null) => new()
    {
        EnergyPerCharge = wall.EnergyPerCharge,
        ChargeDurationS = wall.ChargeDurationS,
        MaintenancePower = wall.MaintenancePower,
        NoLoadPower = wall.NoLoadPower,
        Use = use,
        Tariff = tariff,
        Carbon = carbon,
    };
}
