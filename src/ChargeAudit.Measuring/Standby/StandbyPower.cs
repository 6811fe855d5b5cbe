using ChargeAudit.Logs;
using ChargeAudit.Measuring.Integration;
using ChargeAudit.Measuring.Segmentation;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Statistics;
using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.Measuring.Standby;

/// <summary>
/// Power of a charger that waits or keeps a full device, by the published methods. Limits and clause numbers of IEC 62301:2011 (EN
/// 50564:2011) are from memory. Pure functions.
/// </summary>
public static class StandbyPower
{
    private const double LeastTotalS = 900;
    private const double LeastPeriodS = 600;
    private const double FourHoursS = 4 * 3600;

    /// <summary>
    /// The sampling method: the first third is discarded and the drift of the rest tested; where it fails, shorter and longer total periods
    /// are tried and the longest that passes is taken; a cyclic load is averaged over whole cycles. <i>Source:</i> IEC 62301:2011, 5.3.2.
    /// </summary>
    /// <param name="samples">Readings.</param>
    /// <param name="source">The scatter as a source of uncertainty.</param>
    /// <exception cref="ArgumentException">There are fewer than six readings.</exception>
    public static StandbyFinding BySampling(StandbySamples samples, InfluenceSource source)
    {
        double[] power = [.. samples.PowerW];
        if (power.Length < 6)
        {
            throw new ArgumentException("a stand-by power needs at least six readings", nameof(samples));
        }

        double? period = PulsePeriod.Of(power, samples.IntervalS);
        int least = Math.Min(power.Length, (int)Math.Ceiling(LeastTotalS / samples.IntervalS));
        int step = Math.Max(1, power.Length / 50);
        for (int total = power.Length; total >= least; total -= step)
        {
            var rest = power.AsSpan(total / 3, total - (total / 3));
            double mean = SampleStatistics.Of(rest).Mean;
            if (Math.Abs(DriftRule.SlopeWPerH(rest, samples.IntervalS)) < DriftRule.LimitWPerH(mean))
            {
                return Finding(samples, StandbyMethod.Sampling, total / 3, total, DriftRule.SlopeWPerH(rest, samples.IntervalS),
                    Shown(samples), period, source);
            }
        }

        if (period is { } cycle && OverCycles(samples, power, cycle, source) is { } cyclic)
        {
            return cyclic;
        }

        int from = power.Length / 3;
        return Finding(
            samples, StandbyMethod.Sampling, from, power.Length, DriftRule.SlopeWPerH(power.AsSpan(from), samples.IntervalS),
            samples.TotalS < LeastTotalS ? Stability.NotShown : Stability.Drifting, period, source);
    }

    /// <summary>
    /// The accumulated-energy method: after 30 min the rest is cut into two equal periods, and the powers of both compared. The power is
    /// that of the whole rest, or, where it is the more certain one, that from the counter's first step in it to its last; likewise the
    /// drift is that between the two periods, or between the steps that fall into each. <i>Source:</i> IEC 62301:2011, 5.3.3.3.
    /// </summary>
    /// <param name="timeS">Times of the counter's readings, rising. [s]</param>
    /// <param name="energyJ">Counter, as many. [J]</param>
    /// <param name="stepJ">Step of the counter. [J]</param>
    /// <param name="point">Where the meter sat; null where it was not stated.</param>
    /// <param name="source">The counter's step as a source of uncertainty.</param>
    /// <exception cref="ArgumentException">Fewer than three readings, or lengths that differ.</exception>
    public static StandbyFinding ByAccumulatedEnergy(
        IReadOnlyList<double> timeS, IReadOnlyList<double> energyJ, double stepJ, MeasuringPoint? point, InfluenceSource source)
    {
        if (timeS.Count < 3 || timeS.Count != energyJ.Count)
        {
            throw new ArgumentException("the accumulated-energy method needs at least three readings of the counter, each with its time",
                nameof(timeS));
        }

        double total = timeS[^1] - timeS[0];
        double settle = total >= 1800 + (2 * LeastPeriodS) ? 1800 : total / 3;
        int from = First(timeS, timeS[0] + settle);
        from = Math.Min(from, timeS.Count - 3);
        int middle = Math.Clamp(First(timeS, 0.5 * (timeS[from] + timeS[^1])), from + 1, timeS.Count - 2);
        double first = (energyJ[middle] - energyJ[from]) / (timeS[middle] - timeS[from]);
        double second = (energyJ[^1] - energyJ[middle]) / (timeS[^1] - timeS[middle]);
        double apartH = 0.5 * (timeS[^1] - timeS[from]) / 3600;
        double drift = (second - first) / apartH;
        double length = timeS[^1] - timeS[from];
        double mean = (energyJ[^1] - energyJ[from]) / length;

        // Two readings, each known to within a step: a half-width of half a step each.
        double u = stepJ / Math.Sqrt(6) / length;
        var shape = ErrorShape.Triangular;
        if (stepJ > 0 && energyJ[^1] == energyJ[from])
        {
            // It did not move: anything up to a step may have flowed. The middle stands for it, and the interval reaches from nothing to a
            // step.
            (mean, u, shape) = (0.5 * stepJ / length, 0.5 * stepJ / (0.95 * Math.Sqrt(3)) / length, ErrorShape.Rectangular);
        }

        (double startS, double endS) = (timeS[from], timeS[^1]);
        if (stepJ > 0 && CounterSteps.Of(timeS, energyJ, from, timeS.Count - 1, stepJ) is { } steps && steps.StandardUncertaintyW < u)
        {
            (mean, u, startS, endS) = steps;
            shape = ErrorShape.Normal;
        }

        double driftU = stepJ / Math.Sqrt(2) / (0.5 * length) / apartH;
        if (stepJ > 0 && DriftBySteps(timeS, energyJ, from, middle, stepJ) is { } bySteps && bySteps.UncertaintyWPerH < driftU)
        {
            (drift, driftU) = bySteps;
        }

        bool enough = total >= 1800 + (2 * LeastPeriodS);
        double limit = DriftRule.LimitWPerH(mean);
        var notes = new List<string>();
        double advanced = stepJ > 0 ? Math.Round((energyJ[^1] - energyJ[from]) / stepJ) : double.PositiveInfinity;
        if (advanced <= 3)
        {
            notes.Add(
                Prose.Of(
                    $"In the {length / 3600:G3} h that count, the counter moved by only {advanced:F0} step(s) of {stepJ / 3600:G3} Wh, so "
                + $"this power is known to no better than about {stepJ / length:G2} W."));
        }

        if (driftU > 0.5 * limit)
        {
            notes.Add(
                Prose.Of(
                    $"The counter's step of {stepJ / 3600:G3} Wh is too coarse for this time to show that the power is stable; a longer "
                + $"log would."));
        }

        return new StandbyFinding
        {
            Method = StandbyMethod.AccumulatedEnergy,
            Power = Measured.From(mean, "W", [new UncertaintyComponent(source with { Shape = shape }, u)]),
            Stability = !enough || driftU > 0.5 * limit ? Stability.NotShown : Math.Abs(drift) < limit
                ? Stability.Stable
                : Stability.Drifting,
            DriftWPerH = drift,
            DriftLimitWPerH = limit,
            FromS = startS - timeS[0],
            ToS = endS - timeS[0],
            Pulses = PulseCoverage.MeterAverages,
            Notes = notes,
            Wording = StandbyWords.Method(StandbyMethod.AccumulatedEnergy, 0, point),
        };
    }

    /// <summary>Drift between the powers that the counter's steps show in two adjacent periods, with its standard uncertainty; null where a
    /// period holds too few. [W/h]</summary>
    private static (double DriftWPerH, double UncertaintyWPerH)? DriftBySteps(
        IReadOnlyList<double> timeS, IReadOnlyList<double> energyJ, int from, int middle, double stepJ)
    {
        if (CounterSteps.Of(timeS, energyJ, from, middle, stepJ) is not { } first
            || CounterSteps.Of(timeS, energyJ, middle, timeS.Count - 1, stepJ) is not { } second)
        {
            return null;
        }

        double apartH = 0.5 * (second.FromS + second.ToS - first.FromS - first.ToS) / 3600;
        double u = Math.Sqrt((first.StandardUncertaintyW * first.StandardUncertaintyW)
            + (second.StandardUncertaintyW * second.StandardUncertaintyW));
        return ((second.PowerW - first.PowerW) / apartH, u / apartH);
    }

    /// <summary>
    /// Maintenance power as the mean of its last four hours; over whole cycles that hold at least these where top-ups come regularly.
    /// <i>Source:</i> 10 CFR 430 Subpart B Appendix Y, 3.3.9.
    /// </summary>
    /// <param name="envelope">Power over time.</param>
    /// <param name="maintenance">The stretch of maintenance.</param>
    /// <param name="kind">What a reading of the log stands for.</param>
    /// <param name="point">Where the meter sat; null where it was not stated.</param>
    /// <param name="source">The scatter as a source of uncertainty.</param>
    /// <exception cref="ArgumentException">The stretch holds fewer than six readings.</exception>
    public static StandbyFinding OfLastFourHours(PowerEnvelope envelope, ModeSpan maintenance, SampleKind kind, MeasuringPoint? point,
        InfluenceSource source)
    {
        var samples = StandbySamples.Of(envelope, maintenance.StartS, maintenance.EndS, kind, point);
        double[] power = [.. samples.PowerW];
        if (power.Length < 6)
        {
            throw new ArgumentException("a power when full needs at least six readings", nameof(maintenance));
        }

        double? period = PulsePeriod.Of(power, samples.IntervalS);
        double wanted = period is { } p ? Math.Ceiling(FourHoursS / p) * p : FourHoursS;
        double window = Math.Min(wanted, period is { } q && samples.TotalS >= q ? Math.Floor(samples.TotalS / q) * q : samples.TotalS);
        int from = Math.Max(0, power.Length - (int)Math.Round(window / samples.IntervalS));
        double slope = DriftRule.SlopeWPerH(power.AsSpan(from), samples.IntervalS);
        bool enough = window >= FourHoursS - samples.IntervalS;
        var finding = Finding(samples, StandbyMethod.LastFourHours, from, power.Length, slope, enough
            ? Stability.Stable
            : Stability.NotShown, period, source);
        return finding with
        {
            Stability = !enough ? Stability.NotShown : Math.Abs(slope) < finding.DriftLimitWPerH ? Stability.Stable : Stability.Drifting,
            Notes = enough
                ? finding.Notes
                : [Prose.Of($"The full device was logged for {samples.TotalS / 3600:F1} h only; the procedure averages its last "
                    + $"4 h."),
                    .. finding.Notes],
        };
    }

    private static StandbyFinding? OverCycles(StandbySamples samples, double[] power, double period, InfluenceSource source)
    {
        int skip = (int)Math.Ceiling(LeastPeriodS / samples.IntervalS);
        double available = 0.5 * (power.Length - skip) * samples.IntervalS;
        int cycles = (int)Math.Floor(available / period);
        double length = cycles * period;
        if (cycles < 2 || length < LeastPeriodS)
        {
            return null;
        }

        int each = (int)Math.Round(length / samples.IntervalS);
        int from = power.Length - (2 * each);
        double first = SampleStatistics.Of(power.AsSpan(from, each)).Mean;
        double second = SampleStatistics.Of(power.AsSpan(from + each, each)).Mean;
        double drift = (second - first) / (each * samples.IntervalS / 3600);
        var stability = Math.Abs(drift) < DriftRule.LimitWPerH(0.5 * (first + second)) ? Stability.Stable : Stability.Drifting;
        return Finding(samples, StandbyMethod.SamplingOverCycles, from, power.Length, drift, stability, period, source);
    }

    private static StandbyFinding Finding(
        StandbySamples samples, StandbyMethod method, int from, int to, double driftWPerH, Stability stability, double? period,
            InfluenceSource source)
    {
        double[] used = [.. samples.PowerW.Skip(from).Take(to - from)];
        double mean = SampleStatistics.Of(used).Mean;

        // Blocks long enough to hold a cycle, too.
        var (error, dof) = MeanScatter.Of(used, used.Length, (int)Math.Ceiling((period ?? 0) / samples.IntervalS)) ?? (double.NaN, 1);
        var pulses = StandbyWords.Coverage(samples, used);
        return new StandbyFinding
        {
            Method = method,
            Power = double.IsNaN(error)
                ? Measured.Unknown(mean, "W", "too few readings to tell the scatter of the mean")
                : Measured.From(mean, "W", [new UncertaintyComponent(source with { DegreesOfFreedom = dof }, error)]),
            Stability = stability,
            DriftWPerH = driftWPerH,
            DriftLimitWPerH = DriftRule.LimitWPerH(mean),
            FromS = from * samples.IntervalS,
            ToS = to * samples.IntervalS,
            PeriodS = period,
            Pulses = pulses,
            Notes = StandbyWords.Notes(samples, stability, pulses, period),
            Wording = StandbyWords.Method(method, samples.IntervalS, samples.Point),
        };
    }

    private static Stability Shown(StandbySamples samples) => samples.TotalS < LeastTotalS ? Stability.NotShown : Stability.Stable;

    private static int First(IReadOnlyList<double> timeS, double atS)
    {
        int i = 0;
        while (i < timeS.Count - 1 && timeS[i] < atS)
        {
            i++;
        }

        return i;
    }
}
