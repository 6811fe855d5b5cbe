using System.Globalization;
using ChargeAudit.Logs;
using ChargeAudit.Measuring.Standby;
using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.Comparing.Auditing;

/// <summary>
/// Which of two stand-by powers of one log is taken: that of its readings, or that of the energy counter beside them. The counter serves better where the
/// readings cannot carry the load's pulses, or have missed them, and where its figure is the surer one.
/// </summary>
internal static class StandbyChoice
{
    /// <summary>A counter that shows less than this share of the readings' mean did not register the load: below its starting power it stands still. [1]</summary>
    private const double LeastRegistered = 0.02;

    /// <summary>Figures further apart than this many times their joint standard uncertainty contradict each other. [1]</summary>
    private const double Beyond = 3;

    /// <summary>The choice, and why, as a sentence.</summary>
    /// <param name="sampled">By the readings.</param>
    /// <param name="kind">What a reading stands for.</param>
    /// <param name="readings">Its power with the meter's errors. [W]</param>
    /// <param name="counter">The counter's power with the meter's errors. [W]</param>
    public static (bool TakeCounter, string Why) Of(StandbyFinding sampled, SampleKind kind, Measured readings, Measured counter)
    {
        string beside = Text($"The readings give {readings.Value:G3} W, the energy counter beside them {counter.Value:G3} W");
        if (counter.Value <= LeastRegistered * readings.Value)
        {
            return (false, $"{beside}: the counter hardly moved, as counters may below their starting power, so the readings were taken.");
        }

        if (sampled.Pulses == PulseCoverage.NotCarried)
        {
            return (true, $"{beside}. The counter was taken: it adds up every pulse, and the readings are too far apart to carry them.");
        }

        if (readings.StandardUncertainty is not { } ofReadings || counter.StandardUncertainty is not { } ofCounter)
        {
            return (false, $"{beside}. The readings were taken, as they carry the load and the uncertainty of one of the two is not known.");
        }

        if (kind == SampleKind.Instantaneous && counter.Value - readings.Value > Beyond * Math.Sqrt((ofReadings * ofReadings) + (ofCounter * ofCounter)))
        {
            return (true, $"{beside}, more than their uncertainties allow. The counter was taken: it adds up every pulse, and readings of single instants have missed some.");
        }

        return ofCounter < ofReadings
            ? (true, $"{beside}. The counter was taken: its standard uncertainty is {Text($"{ofCounter:G2} W, that of the readings {ofReadings:G2} W")}.")
            : (false, $"{beside}. The readings were taken: their standard uncertainty is {Text($"{ofReadings:G2} W, that of the counter {ofCounter:G2} W")}.");
    }

    private static string Text(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
