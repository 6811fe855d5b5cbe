using ChargeAudit.Logs;
using ChargeAudit.Measuring.Standby;

namespace ChargeAudit.PublishedChecks;

/// <summary>
/// IEC 62301:2011, Household electrical appliances – Measurement of standby power (= EN 50564:2011). Clause numbers and limits are from
/// memory; the worked figures follow from the stated formulas and were worked out apart from the project.
/// </summary>
public sealed class Iec62301Checks
{
    /// <summary>5.3.2: 1 Hz for 900 s, P = 0.250 W + 8 mW/h · t; the last two thirds (300 s to 900 s, 601 points) have the slope 8.000
    /// mW/h, below 10 mW/h; result 0.25133333 W.</summary>
    [Fact]
    public void Sampling_method_with_a_drift_of_8_mW_per_hour_is_stable()
    {
        var used = Ramp(8).Skip(300).ToArray();
        Assert.Equal(601, used.Length);
        Assert.Equal(0.008, DriftRule.SlopeWPerH(used, 1), 9);
        Assert.Equal(0.25133333, used.Average(), 8);
        var finding = StandbyPower.BySampling(new StandbySamples(1, Ramp(8), SampleKind.Instantaneous, MeasuringPoint.Wall), new("s"));
        Assert.Equal(Stability.Stable, finding.Stability);
        Assert.Equal(0.25133333, finding.Power.Value, 8);
    }

    /// <summary>The same with 12 mW/h is not stable.</summary>
    [Fact]
    public void Sampling_method_with_a_drift_of_12_mW_per_hour_is_not()
    {
        var finding = StandbyPower.BySampling(new StandbySamples(1, Ramp(12), SampleKind.Instantaneous, MeasuringPoint.Wall), new("s"));
        Assert.Equal(Stability.Drifting, finding.Stability);
        Assert.Equal(0.012, finding.DriftWPerH, 9);
    }

    /// <summary>
    /// 5.3.3.3: 30 min to settle, then two adjacent equal periods; P = ΔE/Δt. For P = 0.250 W + 8 mW/h · t over 1 h the periods are 1800 s
    /// to 2700 s and 2700 s to 3600 s, their mid-points 0.25 h apart, their powers 0.255 W and 0.257 W: 8 mW/h, below 10 mW/h; result 0.256
    /// W. With 12 mW/h it is not stable.
    /// </summary>
    [Theory]
    [InlineData(8, Stability.Stable, 0.256)]
    [InlineData(12, Stability.Drifting, 0.259)]
    public void Accumulated_energy_method(double milliwattsPerHour, Stability stability, double powerW)
    {
        var finding = Counted(milliwattsPerHour, 3600, stepJ: 0.001);
        Assert.Equal(stability, finding.Stability);
        Assert.Equal(milliwattsPerHour / 1000, finding.DriftWPerH, 9);
        Assert.Equal(powerW, finding.Power.Value, 9);
        Assert.Equal((1800, 3600), (finding.FromS, finding.ToS));
    }

    /// <summary>5.3.3.3: periods of at least 10 min after 30 min; 49 min are too short for two of them, so stability is not
    /// shown.</summary>
    [Fact]
    public void Accumulated_energy_method_needs_fifty_minutes() =>
        Assert.Equal(Stability.NotShown, Counted(0, 2940, stepJ: 0.001).Stability);

    /// <summary>5.3.3.3: a counter with steps of 0.1 Wh gives the power over 15 min to 0.4 W only, far from the 10 mW/h allowed: stability
    /// is not shown.</summary>
    [Fact]
    public void Accumulated_energy_method_with_a_coarse_counter_shows_no_stability() =>
        Assert.Equal(Stability.NotShown, Counted(0, 3600, stepJ: 360).Stability);

    /// <summary>5.3.2: 10 mW/h up to 1 W, above that 1 % of the measured power an hour.</summary>
    [Theory]
    [InlineData(0.3, 0.010)]
    [InlineData(1.0, 0.010)]
    [InlineData(2.5, 0.025)]
    public void Drift_limit(double powerW, double limitWPerH) => Assert.Equal(limitWPerH, DriftRule.LimitWPerH(powerW), 12);

    /// <summary>4.4: from 1 W up 2 % with a maximum current ratio up to 10, then 0.02·[1 + 0.08·(MCR − 10)]: 2.0 %, 2.8 %, 3.6 %, 5.2 % at
    /// 10, 15, 20, 30.</summary>
    [Theory]
    [InlineData(10, 0.020)]
    [InlineData(15, 0.028)]
    [InlineData(20, 0.036)]
    [InlineData(30, 0.052)]
    public void Allowed_uncertainty_by_maximum_current_ratio(double ratio, double share)
    {
        Assert.Equal(share * 5, DriftRule.AllowedUncertaintyW(5, ratio), 12);
    }

    /// <summary>4.4: below 1 W 0.02 W up to a ratio of 10, above it the greater of 0.02 W and the share of the power.</summary>
    [Fact]
    public void Allowed_uncertainty_below_one_watt()
    {
        Assert.Equal(0.02, DriftRule.AllowedUncertaintyW(0.3, 5), 12);
        Assert.Equal(0.02, DriftRule.AllowedUncertaintyW(0.3, 30), 12);
        Assert.Equal(0.0468, DriftRule.AllowedUncertaintyW(0.9, 30), 12);
    }

    /// <summary>4.4: resolution 0.01 W up to 10 W, 0.1 W up to 100 W, 1 W above.</summary>
    [Fact]
    public void Allowed_resolution()
    {
        Assert.Equal([0.01, 0.1, 1], new[] { 5.0, 50, 500 }.Select(DriftRule.AllowedResolutionW));
    }

    private static StandbyFinding Counted(double milliwattsPerHour, int lengthS, double stepJ)
    {
        var times = Enumerable.Range(0, lengthS + 1).Select(t => (double)t).ToList();
        var energies = times.Select(t => (0.250 * t) + (milliwattsPerHour / 1000 / 3600 * t * t / 2)).ToList();
        return StandbyPower.ByAccumulatedEnergy(times, energies, stepJ, MeasuringPoint.Wall, new("s"));
    }

    private static double[] Ramp(double milliwattsPerHour) =>
        [.. Enumerable.Range(0, 901).Select(t => 0.250 + (milliwattsPerHour / 1000 * t / 3600))];
}
