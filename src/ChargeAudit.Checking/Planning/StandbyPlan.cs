using ChargeAudit.Logs;
using ChargeAudit.Measuring.Standby;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Statistics;
using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.Checking.Planning;

/// <summary>Pulses that a waiting charger draws.</summary>
/// <param name="PowerW">How far a pulse rises above what lies between pulses. [W]</param>
/// <param name="LengthS">Length of one. [s]</param>
/// <param name="PeriodS">From one to the next, longer than a pulse. [s]</param>
public sealed record PulseTrain(double PowerW, double LengthS, double PeriodS);

/// <summary>How a log of a waiting charger must be made.</summary>
/// <param name="LengthS">Least length of the log; positive infinity where no length will do. [s]</param>
/// <param name="MeterShare">What the meter alone leaves, as a share of the power to either side; null where its accuracy is not known.
/// [1]</param>
/// <param name="Carries">Whether meter and sampling can carry the wanted figure.</param>
/// <param name="Advice">Remarks and advice, as sentences.</param>
public sealed record StandbyPlan(double LengthS, double? MeterShare, bool Carries, IReadOnlyList<string> Advice)
{
    /// <summary>Shortest log of the published method. <i>Source:</i> IEC 62301:2011, 5.3.2 (from memory). [s]</summary>
    public const double LeastLengthS = 900;

    /// <summary>Crest factor of a sine divided by a power factor of one. [1]</summary>
    private const double SineCurrentRatio = 1.4142;

    /// <summary>Readings that drift through the pulses need this many passes to meet all of a pulse. [1]</summary>
    private const double Passes = 10;

    /// <summary>Makes the plan.</summary>
    /// <param name="powerW">Mean power expected, above zero. [W]</param>
    /// <param name="wanted">Wanted half-width of the 95 % interval, as a share, above zero. [1]</param>
    /// <param name="accuracy">Accuracy of the meter's power; null: not known.</param>
    /// <param name="stepW">Step of its readings; zero where fine. [W]</param>
    /// <param name="samples">What a reading stands for.</param>
    /// <param name="intervalS">Interval between readings, above zero. [s]</param>
    /// <param name="pulses">Pulses expected; null: none.</param>
    public static StandbyPlan Of(double powerW, double wanted, MeterAccuracy? accuracy, double stepW, SampleKind samples, double intervalS,
        PulseTrain? pulses)
    {
        var advice = new List<string>();
        double? meter = accuracy?.HalfWidthAt(powerW, stepW) / powerW;
        bool carries = true;
        if (meter > wanted)
        {
            carries = false;
            advice.Add(
                Prose.Of(
                    $"The meter alone leaves {100 * meter:0.#} % to either side at {powerW:0.###} W: no length of log changes that; use "
                        + $"a meter that is made for small powers."));
        }

        if (stepW > wanted * powerW)
        {
            carries = false;
            advice.Add(
                Prose.Of(
                    $"A step of {stepW:0.####} W is {100 * stepW / powerW:0.#} % of the power, and a steady value dwells in it: use a "
                        + $"meter with finer steps, or one that counts energy."));
        }

        if (DriftRule.AllowedResolutionW(powerW) is var finest && stepW > finest)
        {
            advice.Add(Prose.Of($"IEC 62301 asks for steps of at most {finest:0.##} W at this power."));
        }

        if (DriftRule.AllowedUncertaintyW(powerW, SineCurrentRatio) is var allowed && meter * powerW > allowed)
        {
            advice.Add(
                Prose.Of(
                    $"IEC 62301 allows the meter {allowed:0.###} W at this power, and more where the current is far from a sine."));
        }

        double length = LeastLengthS;
        if (pulses is not null)
        {
            double own = samples is SampleKind.AverageEnding or SampleKind.AverageStarting
                ? Averaged(powerW, wanted, pulses, advice)
                : Moments(powerW, wanted, intervalS, pulses, advice);
            length = Math.Max(length, own);
            carries &= double.IsFinite(own);
        }

        if (double.IsFinite(length))
        {
            advice.Insert(0,
                Prose.Of(
                    $"Log the waiting charger for at least {Math.Ceiling(length / 60):0} minutes, and twice on different occasions, "
                        + $"since one log shows no scatter."));
        }

        return new StandbyPlan(length, meter, carries, advice);
    }

    // A mean misses at most the part of one pulse at each end.
    private static double Averaged(double powerW, double wanted, PulseTrain pulses, List<string> advice)
    {
        advice.Add(
            "Readings are means, so pulses are not missed, provided that the meter's own averaging sees them (its starting power and crest "
            + "range).");
        return pulses.PowerW * pulses.LengthS / (wanted * powerW);
    }

    // Each reading meets a pulse or misses it; the share that meets one is pulse length divided by period, and readings scatter
    // accordingly.
    private static double Moments(double powerW, double wanted, double intervalS, PulseTrain pulses, List<string> advice)
    {
        double duty = pulses.LengthS / pulses.PeriodS;
        double scatter = pulses.PowerW * Math.Sqrt(duty * (1 - duty));
        double k = StudentDistribution.TwoSidedFactor(0.95, double.PositiveInfinity);
        double needed = Math.Pow(k * scatter / (wanted * powerW), 2);
        double cycles = intervalS / pulses.PeriodS, off = Math.Abs(cycles - Math.Round(cycles));
        double beat = off < 1e-9 ? double.PositiveInfinity : intervalS / off;
        advice.Add(
            Prose.Of(
                $"Readings of a moment meet a pulse in {100 * duty:0.#} % of the cases: {Math.Ceiling(needed):0} readings are needed "
            + $"before that scatter is small enough."));
        if (!(Passes * beat <= needed * intervalS))
        {
            double better = (Math.Max(1, Math.Floor(cycles)) + 0.382) * pulses.PeriodS;
            advice.Add(double.IsFinite(beat)
                ? Prose.Of(
                    $"Readings and pulses beat: it takes {beat:0.#} s until readings have met every part of a pulse's cycle; an interval "
                        + $"near "
                    + $"{better:0.###} s would be better, and a meter that averages or counts energy best.")
                : Prose.Of(
                    $"Readings and pulses keep step, so every reading sees the same part of a cycle: no length of log will do; use an "
                        + $"interval near {better:0.###} s, or a meter that averages or counts energy."));
        }

        return Math.Max(needed * intervalS, Passes * beat);
    }
}
