using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.Comparing.Yearly;

/// <summary>A year of one method beside the reference's. What both share, such as a meter's gain or the charges per week, cancels as far as
/// it is shared.</summary>
/// <param name="Energy">Method minus reference. [kWh]</param>
/// <param name="Cost">Method minus reference, in the tariff's currency.</param>
/// <param name="Co2">Method minus reference. [kg]</param>
public sealed record YearDifference(Figure Energy, Figure Cost, Figure Co2)
{
    /// <summary>The difference of two years.</summary>
    /// <param name="reference">The reference's year.</param>
    /// <param name="method">The method's year.</param>
    public static YearDifference Of(YearResult reference, YearResult method) => new(
        Minus(method.Energy, reference.Energy),
        Minus(method.Cost, reference.Cost),
        method.Detail is { } m && reference.Detail is { } r
            ? Minus(m.Co2, r.Co2)
            : Figure.None(method.Energy.WhyNot ?? reference.Energy.WhyNot ?? "a year is missing"));

    /// <summary>Years until buying a charger has paid for itself by what it saves.</summary>
    /// <param name="now">A year with the charger that there is.</param>
    /// <param name="bought">A year with the charger to be bought.</param>
    /// <param name="purchasePrice">Its price, in the tariff's currency.</param>
    /// <returns>[a]; missing where nothing is saved, or where the saving cannot be told from nothing.</returns>
    public static Figure PaybackYears(YearResult now, YearResult bought, double purchasePrice)
    {
        var saving = Minus(now.Cost, bought.Cost);
        if (saving.Value is not { } perYear)
        {
            return saving;
        }

        if (perYear.Value <= 0)
        {
            return Figure.None("it costs no less to run, so it never pays");
        }

        if (perYear.Interval() is { } i && i.Low <= 0)
        {
            return Figure.None(
                Prose.Of(
                    $"the saving ({i.Low:0.##} to {i.High:0.##} {perYear.Unit} a year) cannot be told from zero, so no time can be given"));
        }

        double years = purchasePrice / perYear.Value;
        return Figure.Of(Measured.Combine(years, "a", (-years / perYear.Value, perYear)), saving.Assumed);
    }

    private static Figure Minus(Figure a, Figure b)
    {
        if ((a.WhyNot ?? b.WhyNot) is { } why)
        {
            return Figure.None(why);
        }

        string? assumed = Figure.Joined(a.Assumed, b.Assumed);
        return new Figure(a.Value! - b.Value!, null, assumed);
    }
}
