using ChargeAudit.Logs;
using ChargeAudit.Measuring.Standby;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.Comparing.Auditing;

/// <summary>
/// Which of two stand-by powers of one log is taken: that of its readings, or that of the energy counter beside them. The counter serves
/// better where the readings cannot carry the load's pulses, or have missed them, and where its figure is the more certain one.
/// </summary>
internal static class StandbyChoice
{
    /// <summary>A counter that shows less than this share of the readings' mean did not register the load: below its starting power it
    /// stands still. [1]</summary>
    private const double LeastRegistered = 0.02;

    /// <summary>Figures further apart than this many times their joint standard uncertainty contradict each other. [1]</summary>
    private const double Beyond = 3;

    /// <summary>Share of a rectangular distribution's half-width within which 95 % of it lies. [1]</summary>
    private const double Filled = 0.95;

    /// <summary>The choice; the reason, as a sentence; and, where the two powers contradict each other, how far apart they are, which the
    /// interval has to cover. [W]</summary>
    /// <param name="sampled">By the readings.</param>
    /// <param name="kind">What a reading stands for.</param>
    /// <param name="readings">Its power with the meter's errors. [W]</param>
    /// <param name="counter">The counter's power with the meter's errors. [W]</param>
    public static (bool TakeCounter, string Why, double ApartW) Of(StandbyFinding sampled, SampleKind kind, Measured readings,
        Measured counter)
    {
        string beside = Prose.Of($"The readings give {readings.Value:G3} W, the energy counter beside them {counter.Value:G3} W");
        if (counter.Value <= LeastRegistered * readings.Value)
        {
            return (false, $"{beside}: the counter hardly moved, as counters may below their starting power, so the readings were taken.",
                0);
        }

        // Readings that do not carry the load's pulses may be wrong by a factor: anything from none to twice.
        bool carried = sampled.Pulses != PulseCoverage.NotCarried;
        double ofReadings = Math.Max(Known(readings), carried ? 0 : Math.Abs(readings.Value) / Math.Sqrt(3));
        double ofCounter = Known(counter);
        if (carried && (readings.StandardUncertainty is null || counter.StandardUncertainty is null))
        {
            return (false, $"{beside}. The readings were taken, as they carry the load and the uncertainty of one of the two is not known.",
                0);
        }

        double apart = Math.Abs(counter.Value - readings.Value);
        bool contradict = apart > Beyond * Math.Sqrt((ofReadings * ofReadings) + (ofCounter * ofCounter));
        string u = Prose.Of($"{ofCounter:G2} W, that of the readings {ofReadings:G2} W");
        string covered = contradict
            ? " They differ by more than their uncertainties allow, so the interval reaches from one to the other."
            : "";
        if (carried && contradict && kind == SampleKind.Instantaneous && counter.Value > readings.Value)
        {
            // No contradiction after all: the scatter of single instants cannot show pulses that none of them hit.
            return (true,
                $"{beside}, more than their uncertainties allow. The counter was taken: it adds up every pulse, and readings of single "
                + "instants have missed some.", 0);
        }

        if (ofCounter < ofReadings)
        {
            return (true, carried
                ? $"{beside}. The counter was taken: its standard uncertainty is {u}.{covered}"
                : $"{beside}. The counter was taken: it adds up every pulse, and the readings are too far apart to carry them.{covered}",
                    contradict ? apart : 0);
        }

        return carried
            ? (false,
                Prose.Of(
                    $"{beside}. The readings were taken: their standard uncertainty is {ofReadings:G2} W, that of the counter "
                + $"{ofCounter:G2} W.{covered}"), contradict ? apart : 0)
            : (false,
                InvariantText.Of(
                    $"{beside}. The readings were taken though they are too far apart to carry the load's pulses: the counter is too "
                + $"coarse here ({u}), and the interval allows for pulses that were missed or counted too often."), Filled
                * Math.Abs(readings.Value));
    }

    /// <summary>A power whose interval reaches as far as a figure that contradicts it.</summary>
    public static Measured Covering(Measured power, double apartW, string file) => apartW > 0
        ? power.Plus(
            new UncertaintyComponent(InfluenceSource.OfLog(file, SourceKind.CounterReading, "stand-by-contradiction",
            ErrorShape.Rectangular), apartW / (Filled * Math.Sqrt(3))))
        : power;

    // The part of the standard uncertainty that is known, where the whole is not.
    private static double Known(Measured m) => Math.Sqrt(m.Components.Sum(c => c.Variance));
}
