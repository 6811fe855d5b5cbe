using ChargeAudit.Logs;
using ChargeAudit.Logs.Layout;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.Measuring;

/// <summary>Turns what a study says of a meter into what the uncertainty calculation needs.</summary>
internal static class MeterAccuracies
{
    private static readonly (LogQuantity Log, MeterQuantity Meter)[] Pairs =
    [
        (LogQuantity.Voltage, MeterQuantity.Voltage), (LogQuantity.Current, MeterQuantity.Current), (LogQuantity.Power, MeterQuantity.Power),
        (LogQuantity.ApparentPower, MeterQuantity.ApparentPower), (LogQuantity.PowerFactor, MeterQuantity.PowerFactor),
        (LogQuantity.Energy, MeterQuantity.Energy), (LogQuantity.Charge, MeterQuantity.Charge), (LogQuantity.Time, MeterQuantity.Time),
    ];

    /// <summary>The stated accuracies of a meter, read.</summary>
    /// <exception cref="InputException">A text is no accuracy.</exception>
    public static Dictionary<MeterQuantity, MeterAccuracy> Of(Meter? meter)
    {
        var accuracies = new Dictionary<MeterQuantity, MeterAccuracy>();
        foreach (var (log, quantity) in Pairs)
        {
            if (meter?.Accuracy.GetValueOrDefault(log) is not { } text)
            {
                continue;
            }

            accuracies.Add(quantity, Read(meter, log, quantity, "accuracy", text) with
            {
                Stability = meter.Stability.GetValueOrDefault(log) is { } moves ? Read(meter, log, quantity, "stability", moves) : null,
            });
        }

        return accuracies;
    }

    private static MeterAccuracy Read(Meter meter, LogQuantity log, MeterQuantity quantity, string what, string text) =>
        MeterAccuracy.TryParse(text, quantity, out var accuracy, out string? error)
            ? accuracy
            : throw new InputException(InputProblem.Unusable, $"the {what} of meter {meter.Name} for {StableName.Of(log)} is \"{text}\": {error}");

    /// <summary>What keeps a text from being the accuracy of a quantity; null where nothing does, or where nothing is calculated from it.</summary>
    public static string? Fault(LogQuantity quantity, string text)
    {
        foreach (var (log, known) in Pairs)
        {
            if (log == quantity)
            {
                return MeterAccuracy.TryParse(text, known, out _, out string? error) ? null : error;
            }
        }

        return null;
    }

    /// <summary>The steps of a log's readings: those that the log shows, or that the data sheet states, whichever is coarser.</summary>
    public static Dictionary<MeterQuantity, double> Steps(LogLayout layout, IReadOnlyDictionary<MeterQuantity, MeterAccuracy> accuracies)
    {
        var steps = new Dictionary<MeterQuantity, double>();
        foreach (var (log, quantity) in Pairs)
        {
            double stated = accuracies.TryGetValue(quantity, out var accuracy) ? accuracy.Resolution ?? 0 : 0;
            double step = Math.Max(stated, layout.Resolution.GetValueOrDefault(log, 0));
            if (step > 0)
            {
                steps.Add(quantity, step);
            }
        }

        return steps;
    }

    /// <summary>The basis of power, in the words of the uncertainty calculation.</summary>
    public static PowerBasis Basis(Measuring.Integration.PowerSource source) => source switch
    {
        Integration.PowerSource.PowerColumn => PowerBasis.PowerColumn,
        Integration.PowerSource.DirectCurrentProduct => PowerBasis.VoltageTimesCurrent,
        Integration.PowerSource.ProductWithPowerFactor => PowerBasis.VoltageTimesCurrentTimesPowerFactor,
        Integration.PowerSource.ApparentWithPowerFactor => PowerBasis.ApparentPowerTimesPowerFactor,
        Integration.PowerSource.EnergyCounter => PowerBasis.EnergyCounter,
        _ => throw new ArgumentOutOfRangeException(nameof(source)),
    };
}
