using ChargeAudit.Measuring.Segmentation;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Studies;

namespace ChargeAudit.Comparing.Yearly;

/// <summary>A tariff checked and laid out over the week, ready to price the energy of a mode by when it happens. Immutable.</summary>
public sealed class PreparedTariff
{
    private static readonly int[] DaysOfMonth = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];

    private readonly WeekValues _base;
    private readonly double[]? _household;

    private PreparedTariff(Tariff source, WeekValues prices, double[]? household, IReadOnlyList<string> assumptions)
    {
        Source = source;
        Currency = Currency.Of(source.Currency);
        _base = prices;
        _household = household;
        Assumptions = assumptions;
    }

    /// <summary>The tariff as the user gave it.</summary>
    public Tariff Source { get; }

    /// <summary>Its currency.</summary>
    public Currency Currency { get; }

    /// <summary>What was assumed in using it, as sentences.</summary>
    public IReadOnlyList<string> Assumptions { get; }

    /// <summary>Fixed charges of a year; null where none is given. They are not shared out to a charger.</summary>
    public double? FixedPerYear => Source.FixedPerMonth * 12;

    private double TaxFactor => 1 + (Source.TaxPercent / 100);

    /// <summary>Checks a tariff and lays it out.</summary>
    /// <param name="tariff">The tariff.</param>
    /// <param name="household">The household's other consumption; tiers need it.</param>
    /// <param name="hourly">The prices read from the tariff's file; null where it names none.</param>
    /// <exception cref="InputException">The tariff contradicts itself, leaves an hour without a price, or lacks what it needs.</exception>
    public static PreparedTariff Of(Tariff tariff, Household? household = null, HourlyValues? hourly = null)
    {
        _ = Currency.Of(tariff.Currency);
        TariffRules.Check(tariff, household);
        var said = new List<string>();
        WeekValues prices;
        if (tariff.Hourly is not null)
        {
            var read = hourly ?? throw new InvalidOperationException("the tariff names a price file that was not read");
            prices = read.Week;
            said.AddRange(read.Notes);
        }
        else if (tariff.Periods.Count > 0)
        {
            prices = TariffRules.LayOut(tariff);
            said.Add(InvariantText.Of($"prices by the hour are weighted over the calendar of {tariff.CalendarYear} in {tariff.TimeZone}"));
        }
        else
        {
            prices = WeekValues.Flat(tariff.PricePerKwh ?? 0);
        }

        if (prices.Least < 0)
        {
            said.Add("some prices are below zero: energy taken then brings money");
        }

        if (tariff.TaxPercent != 0)
        {
            said.Add(Prose.Of($"{tariff.TaxPercent:0.##} % tax is put on every price, below zero too"));
        }

        double[]? months = null;
        if (tariff.Tiers.Count > 0)
        {
            months = household!.KwhPerMonth.Count == 1 ? [.. Enumerable.Repeat(household.KwhPerMonth[0], 12)] : [.. household.KwhPerMonth];
            said.Add(
                "the charger's energy comes on top of the household's other consumption, and is priced in the tiers that it reaches there");
        }

        return new PreparedTariff(tariff, prices, months, said);
    }

    /// <summary>Price of the energy taken in one mode, tiers left out, tax included, in the currency per kWh.</summary>
    /// <param name="plan">When the mode happens.</param>
    /// <param name="mode">The mode.</param>
    public double PriceOf(WeekPlan plan, Mode mode) => TaxFactor * (_base.MeanOver(plan.Share(mode)) + Source.SurchargePerKwh);

    /// <summary>What the tiers make a charger's energy of a year cost, tax included, in the currency.</summary>
    /// <param name="kwhPerYear">Its energy, spread over the months by their days. [kWh]</param>
    public double TierCost(double kwhPerYear)
    {
        if (_household is null)
        {
            return 0;
        }

        double cost = 0;
        for (int month = 0; month < 12; month++)
        {
            double own = kwhPerYear * DaysOfMonth[month] / 365;
            cost += MonthCost(_household[month] + own) - MonthCost(_household[month]);
        }

        return TaxFactor * cost;
    }

    private double MonthCost(double kwh)
    {
        double cost = 0;
        double from = 0;
        foreach (var tier in Source.Tiers)
        {
            double to = tier.UpToKwhPerMonth ?? double.PositiveInfinity;
            cost += Math.Max(0, Math.Min(kwh, to) - from) * tier.PricePerKwh;
            from = to;
        }

        return cost;
    }
}
