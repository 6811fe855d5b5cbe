using ChargeAudit.Measuring.Segmentation;

namespace ChargeAudit.Comparing.Yearly;

/// <summary>
/// When in the week the modes happen: for each quarter of an hour, from Monday 00:00 local time, the share of it that is spent in each
/// mode, as the mean over as many weeks as it takes to hold a whole number of charges. In each quarter the shares add up to 1. Charges are
/// spread evenly over the charging days and start at the charging hour; several on one day are equally spaced, several devices follow one
/// another; a charge that would start while the previous device is still on the charger waits until it is taken off.
/// </summary>
public sealed class WeekPlan
{
    /// <summary>Quarters of an hour in a week.</summary>
    public const int Quarters = 672;

    private const int MaxWeeks = 100;

    /// <summary>Times this close count as the same: rounding moves them no further, and it is far below a quarter of an hour. [h]</summary>
    private const double SameTimeH = 1e-9;

    private readonly double[][] _share;

    private WeekPlan(double[][] share) => _share = share;

    /// <summary>Share of each quarter of the week spent in a mode, 0 to 1; 672 numbers from Monday 00:00.</summary>
    public ReadOnlySpan<double> Share(Mode mode) => _share[(int)mode];

    /// <summary>The plan of a use.</summary>
    /// <param name="use">The use.</param>
    /// <param name="fullChargeH">Time of a full charge. [h]</param>
    public static WeekPlan Of(UseProfile use, double fullChargeH)
    {
        _ = use.Hours(fullChargeH);
        double charge = use.ChargeH(fullChargeH);
        double on = use.OnChargerH(fullChargeH);
        int weeks = WeeksFor(use.Use.ChargesPerWeek);
        var starts = Starts(use, weeks, on);
        var share = new double[4][];
        for (int i = 0; i < share.Length; i++)
        {
            share[i] = new double[Quarters];
        }

        foreach (double start in starts)
        {
            Fill(share[(int)Mode.Charge], start, start + charge, weeks);
            Fill(share[(int)Mode.Maintenance], start + charge, start + on, weeks);
        }

        var rest = share[(int)(use.Use.PluggedInAllDay ? Mode.NoLoad : Mode.Off)];
        for (int q = 0; q < Quarters; q++)
        {
            rest[q] = Math.Max(0, 1 - share[(int)Mode.Charge][q] - share[(int)Mode.Maintenance][q]);
        }

        return new WeekPlan(share);
    }

    private static int WeeksFor(double perWeek)
    {
        for (int weeks = 1; weeks < MaxWeeks; weeks++)
        {
            if (Math.Abs((perWeek * weeks) - Math.Round(perWeek * weeks)) < 1e-9)
            {
                return weeks;
            }
        }

        return MaxWeeks;
    }

    private static double[] Starts(UseProfile use, int weeks, double onH)
    {
        // Rounding down: what a week can hold it can also hold with a fraction of a charge less.
        int sittings = (int)Math.Floor((use.Use.ChargesPerWeek * weeks) + 1e-6);
        int[] days = use.Use.ChargingDays.Count == 0
            ? [0, 1, 2, 3, 4, 5, 6]
            : [.. use.Use.ChargingDays.Select(FromMonday).Distinct().Order()];
        int dayCount = weeks * days.Length;
        var starts = new List<double>();
        for (int i = 0; i < sittings;)
        {
            int day = (int)((long)i * dayCount / sittings);
            int after = i;
            while (after < sittings && (int)((long)after * dayCount / sittings) == day)
            {
                after++;
            }

            double midnight = ((day / days.Length * 7) + days[day % days.Length]) * 24.0;
            for (int k = 0; k < after - i; k++)
            {
                double start = midnight + use.Use.ChargingStart.ToTimeSpan().TotalHours + (k * 24.0 / (after - i));
                starts.AddRange(Enumerable.Repeat(start, use.Use.Devices));
            }

            i = after;
        }

        return Apart([.. starts.Order()], onH, weeks * WeekHours.Week);
    }

    private static double[] Apart(double[] starts, double onH, double cycleH)
    {
        bool moved = starts.Length > 1;
        while (moved)
        {
            moved = false;
            for (int i = 0; i < starts.Length; i++)
            {
                double free = i == 0 ? starts[^1] + onH - cycleH : starts[i - 1] + onH;
                if (starts[i] < free - SameTimeH)
                {
                    starts[i] = free;
                    moved = true;
                }
            }
        }

        return starts;
    }

    private static void Fill(double[] share, double fromH, double toH, int weeks)
    {
        double from = fromH * 4;
        double to = toH * 4;
        for (long q = (long)Math.Floor(from); q < to; q++)
        {
            double part = Math.Min(to, q + 1) - Math.Max(from, q);
            share[(int)(((q % Quarters) + Quarters) % Quarters)] += part / weeks;
        }
    }

    private static int FromMonday(DayOfWeek day) => ((int)day + 6) % 7;
}
