using ChargeAudit.Metrology;
using ChargeAudit.Simulation.Randomness;
using ChargeAudit.Simulation.Scenarios;

namespace ChargeAudit.Simulation.Metering;

/// <summary>The lasting error of one quantity of one meter: a reading is true·(1 + gain) + offset, before noise and rounding.</summary>
/// <param name="Gain">Relative part. [1]</param>
/// <param name="Offset">Fixed part, in the coherent unit.</param>
public readonly record struct ReadingError(double Gain, double Offset)
{
    /// <summary>What the meter makes of a true value.</summary>
    /// <param name="value">The true value.</param>
    /// <returns>The reading, unrounded.</returns>
    public double Apply(double value) => (value * (1 + Gain)) + Offset;
}

/// <summary>
/// The lasting errors of one meter. They are drawn once for a study, evenly over the stated accuracy, so that one and the same meter errs
/// alike in all its logs, as real ones do.
/// </summary>
public sealed record MeterErrors
{
    private readonly Dictionary<LogQuantity, ReadingError> _errors;

    private MeterErrors(string meter, Dictionary<LogQuantity, ReadingError> errors) => (Meter, _errors) = (meter, errors);

    /// <summary>Name of the meter.</summary>
    public string Meter { get; }

    /// <summary>The error of each column's quantity.</summary>
    public IReadOnlyDictionary<LogQuantity, ReadingError> Errors => _errors;

    /// <summary>Draws the errors of a meter.</summary>
    /// <param name="meter">The meter.</param>
    /// <param name="random">Where they are drawn from.</param>
    /// <returns>Its errors.</returns>
    public static MeterErrors Draw(MeterModel meter, RandomSource random)
    {
        ArgumentNullException.ThrowIfNull(meter);
        ArgumentNullException.ThrowIfNull(random);
        Dictionary<LogQuantity, ReadingError> errors = [];
        foreach (MeterColumn column in meter.Columns)
        {
            errors[column.Quantity] = new ReadingError(random.NextWithin(column.GainHalfWidth), random.NextWithin(column.OffsetHalfWidth));
        }

        // A counter sums up the power that the meter shows: it shares its error.
        if (errors.ContainsKey(LogQuantity.Energy) && errors.TryGetValue(LogQuantity.Power, out ReadingError power))
        {
            errors[LogQuantity.Energy] = power;
        }

        return new MeterErrors(meter.Name, errors);
    }

    /// <summary>The error of a quantity; none where the meter does not show it.</summary>
    /// <param name="quantity">The quantity.</param>
    /// <returns>Its error.</returns>
    public ReadingError Of(LogQuantity quantity) => _errors.GetValueOrDefault(quantity);
}
