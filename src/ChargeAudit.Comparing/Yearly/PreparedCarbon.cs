using ChargeAudit.Measuring.Segmentation;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Studies;

namespace ChargeAudit.Comparing.Yearly;

/// <summary>Emission factors checked and laid out over the week. Immutable.</summary>
public sealed class PreparedCarbon
{
    private readonly WeekValues _grams;

    private PreparedCarbon(CarbonFactor source, WeekValues grams, IReadOnlyList<string> assumptions) =>
        (Source, _grams, Assumptions) = (source, grams, assumptions);

    /// <summary>The factor as the user gave it.</summary>
    public CarbonFactor Source { get; }

    /// <summary>What was assumed in using it, as sentences.</summary>
    public IReadOnlyList<string> Assumptions { get; }

    /// <summary>Checks a factor and lays it out.</summary>
    /// <param name="carbon">The factor.</param>
    /// <param name="hourly">The factors read from its file; null where it names none.</param>
    /// <exception cref="InputException">Neither or both of a number and a file are given, or a number cannot be one.</exception>
    public static PreparedCarbon Of(CarbonFactor carbon, HourlyValues? hourly = null)
    {
        if (carbon.GramsPerKwh is null == carbon.Hourly is null)
        {
            throw new InputException(InputProblem.Unusable,
                "[co2] is expected to hold one of grams-per-kwh and hourly: give the number, or the file");
        }

        if (carbon.GramsPerKwh is { } g && !(g >= 0 && double.IsFinite(g)))
        {
            throw new InputException(
                InputProblem.Unusable, InvariantText.Of($"[co2] grams-per-kwh is {g}, expected a number from 0 up, in grams per kWh"));
        }

        if (carbon.WithinPercent is < 0 or > 100)
        {
            throw new InputException(InputProblem.Unusable, "[co2] within is expected from 0 to 100 %");
        }

        return carbon.GramsPerKwh is { } flat
            ? new PreparedCarbon(carbon, WeekValues.Flat(flat), [])
            : new PreparedCarbon(
                carbon,
                (hourly ?? throw new InvalidOperationException("the emission factor names a file that was not read")).Week,
                hourly.Notes);
    }

    /// <summary>Factor of the energy taken in one mode. [g/kWh]</summary>
    /// <param name="plan">When the mode happens.</param>
    /// <param name="mode">The mode.</param>
    public double FactorOf(WeekPlan plan, Mode mode) => _grams.MeanOver(plan.Share(mode));
}
