using ChargeAudit.Measuring.Segmentation;

namespace ChargeAudit.Comparing.Yearly;

/// <summary>The powers that a year is worked out from, as plain numbers. One that is not known and not needed is 0.</summary>
/// <param name="EnergyWh">Energy of a full charge. [Wh]</param>
/// <param name="MaintenanceW">Power in maintenance. [W]</param>
/// <param name="NoLoadW">Power with no device. [W]</param>
internal readonly record struct YearPowers(double EnergyWh, double MaintenanceW, double NoLoadW);

/// <summary>
/// A year as plain numbers: energy of a mode = weeks × hours × power (charge: weeks × charges × share × energy), cost = energy × the mean
/// price of the quarters of an hour in which the mode happens, plus the tiers' part.
/// </summary>
internal sealed class YearModel
{
    private readonly PreparedTariff? _tariff;

    internal YearModel(UseProfile use, double chargeDurationH, PreparedTariff? tariff)
    {
        Use = use;
        ChargeDurationH = chargeDurationH;
        _tariff = tariff;
        Hours = use.Hours(chargeDurationH);
        Plan = WeekPlan.Of(use, chargeDurationH);
        foreach (var mode in WeekHours.Modes)
        {
            Price[(int)mode] = tariff?.PriceOf(Plan, mode) ?? 0;
        }
    }

    internal UseProfile Use { get; }

    internal double ChargeDurationH { get; }

    internal WeekHours Hours { get; }

    internal WeekPlan Plan { get; }

    /// <summary>Price by mode without tiers, per kWh.</summary>
    internal double[] Price { get; } = new double[4];

    /// <summary>Usual charges a year, over all devices.</summary>
    internal double ChargesPerYear => Use.WeeklyCharges * Use.WeeksPerYear;

    /// <summary>kWh a year for one unit of the mode's own figure: for 1 Wh of a full charge, or for 1 W.</summary>
    internal double Weight(Mode mode) => mode switch
    {
        Mode.Charge => ChargesPerYear * Use.Share / 1000,
        _ => Hours[mode] * Use.WeeksPerYear / 1000,
    };

    /// <summary>Energy of a year in one mode. [kWh]</summary>
    internal double Kwh(Mode mode, YearPowers powers) => Weight(mode) * Of(mode, powers);

    /// <summary>Energy of a year. [kWh]</summary>
    internal double Kwh(YearPowers powers) => Kwh(Mode.Charge, powers) + Kwh(Mode.Maintenance, powers) + Kwh(Mode.NoLoad, powers);

    /// <summary>Cost of a year, with the mean price of each mode as it is at this use.</summary>
    internal double Cost(YearPowers powers)
    {
        double cost = _tariff?.TierCost(Kwh(powers)) ?? 0;
        foreach (var mode in WeekHours.Modes)
        {
            cost += Price[(int)mode] * Kwh(mode, powers);
        }

        return cost;
    }

    /// <summary>What the tiers add to a kWh, averaged over the charger's own energy.</summary>
    internal double TierPrice(double kwh) => kwh > 0 ? (_tariff?.TierCost(kwh) ?? 0) / kwh : 0;

    /// <summary>The same year for another use.</summary>
    internal YearModel With(UseProfile use) => new(use, ChargeDurationH, _tariff);

    private static double Of(Mode mode, YearPowers powers) => mode switch
    {
        Mode.Charge => powers.EnergyWh,
        Mode.Maintenance => powers.MaintenanceW,
        Mode.NoLoad => powers.NoLoadW,
        _ => 0,
    };
}
