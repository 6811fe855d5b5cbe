using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Studies;

namespace ChargeAudit.Comparing.Yearly;

/// <summary>What a tariff must hold, and which price holds when.</summary>
internal static class TariffRules
{
    /// <summary>Refuses a tariff that contradicts itself or lacks what it needs.</summary>
    internal static void Check(Tariff tariff, Household? household)
    {
        if (tariff.Hourly is not null && (tariff.Periods.Count > 0 || tariff.PricePerKwh is not null))
        {
            throw Unusable($"[tariff] names an hourly price file beside a price or periods: keep one of them as the base price");
        }

        if (tariff.Hourly is null && tariff.Periods.Count == 0 && tariff.PricePerKwh is null && tariff.Tiers.Count == 0)
        {
            throw Unusable(
                $"[tariff] holds no price: give price, [[tariff.period]], [[tariff.tier]] or hourly, or leave [tariff] out to have "
                + $"no cost");
        }

        if (tariff.TaxPercent is < 0 or > 1000 || tariff.PriceWithinPercent is < 0 or > 100)
        {
            throw Unusable($"[tariff] tax is expected from 0 to 1000 %, and price-within from 0 to 100 %");
        }

        foreach (var period in tariff.Periods)
        {
            CheckPeriod(period);
        }

        if (tariff.Periods.Count > 0)
        {
            _ = LocalCalendar.Zone(tariff.TimeZone
                ?? throw Unusable($"[tariff] has periods by the hour but no timezone: give one such as timezone = \"Europe/Lisbon\""),
                "[tariff] timezone");
            if (tariff.CalendarYear is < 1970 or > 2200)
            {
                throw Unusable($"[tariff] calendar-year is {tariff.CalendarYear}, expected a year from 1970 to 2200");
            }
        }

        CheckTiers(tariff, household);
    }

    /// <summary>The price of every quarter of an hour of the tariff's year.</summary>
    internal static WeekValues LayOut(Tariff tariff)
    {
        var zone = LocalCalendar.Zone(tariff.TimeZone!, "[tariff] timezone");
        var holidays = tariff.Holidays.ToHashSet();
        var week = new WeekValues();
        foreach (var quarter in LocalCalendar.QuartersOf(tariff.CalendarYear, zone))
        {
            double price = PriceAt(tariff, quarter.Local, holidays) ?? throw Unusable(
                $"[[tariff.period]]: no period holds on {quarter.Local:yyyy-MM-dd} ({quarter.Local.DayOfWeek}) at {quarter.Local:HH:mm}, "
                    + $"and there is no price for the other hours: add price under [tariff], or a period");
            week.Add(quarter.OfWeek, price);
        }

        return week;
    }

    /// <summary>The base price at a local time; null where no period holds and there is no flat price.</summary>
    internal static double? PriceAt(Tariff tariff, DateTime local, IReadOnlySet<DateOnly> holidays)
    {
        var day = holidays.Contains(DateOnly.FromDateTime(local)) ? DayOfWeek.Sunday : local.DayOfWeek;
        foreach (var period in tariff.Periods)
        {
            if ((period.Days.Count == 0 || period.Days.Contains(day)) && InSeason(period, local)
                && InHours(period, TimeOnly.FromDateTime(local)))
            {
                return period.PricePerKwh;
            }
        }

        return tariff.PricePerKwh;
    }

    private static bool InHours(TariffPeriod period, TimeOnly at)
    {
        bool toMidnight = period.To == TimeOnly.MinValue;
        return period.From < period.To || toMidnight
            ? at >= period.From && (toMidnight || at < period.To)
            : at >= period.From || at < period.To;
    }

    private static bool InSeason(TariffPeriod period, DateTime local)
    {
        if (period.SeasonFrom is not { } from || period.SeasonTo is not { } to)
        {
            return true;
        }

        int at = (local.Month * 100) + local.Day;
        int first = (from.Month * 100) + from.Day;
        int last = (to.Month * 100) + to.Day;
        return first <= last ? at >= first && at <= last : at >= first || at <= last;
    }

    private static void CheckPeriod(TariffPeriod period)
    {
        if (period.From.Ticks % TimeSpan.FromMinutes(15).Ticks != 0 || period.To.Ticks % TimeSpan.FromMinutes(15).Ticks != 0)
        {
            throw Unusable(
                $"[[tariff.period]] runs from {period.From:HH:mm:ss} to {period.To:HH:mm:ss}, expected times on a quarter of an hour");
        }

        if (period.From == period.To && period.From != TimeOnly.MinValue)
        {
            throw Unusable(
                $"[[tariff.period]] starts and ends at {period.From:HH:mm} and so holds no hour: leave from and to out to mean the "
                + $"whole day");
        }

        if (period.SeasonFrom is null != period.SeasonTo is null)
        {
            throw Unusable($"[[tariff.period]] names one end of its season: give both season-from and season-to");
        }

        foreach (var day in new[] { period.SeasonFrom, period.SeasonTo })
        {
            if (day is { } d && (d.Month is < 1 or > 12 || d.Day < 1 || d.Day > DateTime.DaysInMonth(2000, d.Month)))
            {
                throw Unusable(
                    $"[[tariff.period]] names the day {d.Month:00}-{d.Day:00} as an end of its season, expected a month and a day such "
                    + $"as 11-01");
            }
        }

        if (!double.IsFinite(period.PricePerKwh))
        {
            throw Unusable($"[[tariff.period]] price is not a number");
        }
    }

    private static void CheckTiers(Tariff tariff, Household? household)
    {
        if (tariff.Tiers.Count == 0)
        {
            return;
        }

        if (household is null)
        {
            throw Unusable($"[[tariff.tier]] prices depend on what the household takes besides: give kwh-per-month under [household]");
        }

        if (household.KwhPerMonth.Count is not (1 or 12) || household.KwhPerMonth.Any(k => !(k >= 0 && double.IsFinite(k))))
        {
            throw Unusable(
                $"[household] kwh-per-month holds {household.KwhPerMonth.Count} numbers, expected one, or twelve from January on, in kWh a "
                + $"month and none below zero");
        }

        double from = 0;
        for (int i = 0; i < tariff.Tiers.Count; i++)
        {
            bool last = i == tariff.Tiers.Count - 1;
            double to = tariff.Tiers[i].UpToKwhPerMonth ?? (last ? double.PositiveInfinity : 0);
            if (!(to > from))
            {
                throw Unusable(
                    $"[[tariff.tier]] number {i + 1} does not end above {from:0.##} kWh a month: list the tiers from the lowest up, only "
                    + $"the last without up-to-kwh");
            }

            if (last && !double.IsPositiveInfinity(to))
            {
                throw Unusable(
                    $"the last [[tariff.tier]] ends at {to:0.##} kWh a month: leave its up-to-kwh out, so that every consumption has "
                    + $"a price");
            }

            from = to;
        }
    }

    private static InputException Unusable(InvariantText text) => new(InputProblem.Unusable, text.ToStringAndClear());
}
