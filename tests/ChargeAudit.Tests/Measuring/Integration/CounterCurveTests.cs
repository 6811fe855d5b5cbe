using ChargeAudit.Measuring.Integration;
using static ChargeAudit.Tests.Measuring.Integration.CounterSeries;

namespace ChargeAudit.Tests.Measuring.Integration;

/// <summary>A step's energy belongs to the time since the step before, whatever the step and the interval.</summary>
public sealed class CounterCurveTests
{
    public static TheoryData<double, double, double> StepsAndIntervals()
    {
        var data = new TheoryData<double, double, double>();
        foreach (double stepWh in new[] { 0.001, 0.01, 0.1, 1, 10 })
        {
            foreach (double intervalS in new[] { 0.25, 1, 10, 60, 900 })
            {
                data.Add(stepWh, intervalS, 10);
                data.Add(stepWh, intervalS, 0.3);
            }
        }

        return data;
    }

    [Theory]
    [MemberData(nameof(StepsAndIntervals))]
    public void Constant_power_stays_constant(double stepWh, double intervalS, double powerW)
    {
        // As long as 30 steps or 200 rows take, whichever is longer, but at most 20 000 rows.
        double stepJ = 3600 * stepWh;
        double lengthS = Math.Min(20_000 * intervalS, Math.Max(30 * stepJ / powerW, 200 * intervalS));
        var points = Enumerable.Range(0, (int)(lengthS / intervalS))
            .Select(i => (TimeS: i * intervalS, EnergyJ: Cut((powerW * i * intervalS) + (0.37 * stepJ), stepJ))).ToList();
        if (points[^1].EnergyJ < 10 * stepJ)
        {
            return;
        }

        var stretches = CounterCurve.Of(points, stepJ);
        Assert.Equal(points[0].TimeS, stretches[0].FromS);
        Assert.Equal(points[^1].TimeS, stretches[^1].ToS);
        foreach (var (a, b) in stretches.Zip(stretches.Skip(1)))
        {
            Assert.Equal(a.ToS, b.FromS);
        }

        // Except at the ends, which hold less than half a step each, every stretch has the true power, as closely as rows and step allow.
        double allowed = Math.Max(0.25 * powerW, 1e-9);
        foreach (var stretch in stretches.Skip(1).SkipLast(1))
        {
            Assert.InRange(stretch.EnergyJ / (stretch.ToS - stretch.FromS), powerW - allowed, powerW + allowed);
        }

        double energyJ = stretches.Sum(s => s.EnergyJ);
        Assert.InRange(energyJ, (powerW * points[^1].TimeS) - stepJ - (powerW * intervalS), (powerW * points[^1].TimeS) + stepJ
            + (powerW * intervalS));
    }

    [Fact]
    public void Steps_far_apart_give_the_power_between_them_exactly()
    {
        // 36 J steps at 1 W, read every second: a step falls half-way between two rows each 36 s.
        var points = Enumerable.Range(0, 360).Select(i => ((double)i, Cut(i + 0.5, 36))).ToList();
        var stretches = CounterCurve.Of(points, 36);
        var longest = stretches.MaxBy(s => s.ToS - s.FromS);
        Assert.True(longest.ToS - longest.FromS > 250);
        Assert.Equal(1, longest.EnergyJ / (longest.ToS - longest.FromS), 6);
    }

    [Fact]
    public void A_charge_of_15_Wh_in_steps_of_1_Wh_keeps_its_energy_between_two_waits()
    {
        // 2 h of nothing, 1.5 h at 10 W, 2 h of nothing; every phase of the counter is as likely, and the mean over all of them is the
        // truth.
        double sum = 0;
        const int Phases = 40;
        for (int k = 0; k < Phases; k++)
        {
            double phaseJ = 3600 * (k + 0.5) / Phases;
            var points = Enumerable.Range(0, 1981)
                .Select(i => (TimeS: i * 10.0, EnergyJ: Cut(phaseJ + (10 * Math.Clamp((i * 10.0) - 7200, 0, 5400)), 3600))).ToList();
            var stretches = CounterCurve.Of(points, 3600);
            double inCharge = stretches.Where(s => s.EnergyJ > 0 && s.EnergyJ / (s.ToS - s.FromS) > 5).Sum(s => s.EnergyJ) / 3600;
            Assert.InRange(inCharge, 14, 16);
            sum += inCharge;
        }

        Assert.Equal(15, sum / Phases, 0.15);
    }

    [Fact]
    public void One_step_belongs_to_the_whole_time()
    {
        var points = Enumerable.Range(0, 1000).Select(i => ((double)i, i >= 10 ? 3600.0 : 0)).ToList();
        var stretch = Assert.Single(CounterCurve.Of(points, 3600));
        Assert.Equal((0, 999, 3600), (stretch.FromS, stretch.ToS, stretch.EnergyJ));
    }

    [Fact]
    public void A_counter_that_is_refreshed_seldom_makes_no_pulses()
    {
        // Fine digits, but a new value only every ten rows.
        var points = Enumerable.Range(0, 200).Select(i => ((double)i, 7.3 * 10 * (i / 10))).ToList();
        foreach (var stretch in CounterCurve.Of(points, 0.1).SkipLast(1))
        {
            Assert.Equal(7.3, stretch.EnergyJ / (stretch.ToS - stretch.FromS), 1e-6);
        }
    }

    [Fact]
    public void A_load_that_begins_after_a_wait_takes_its_first_row_with_it()
    {
        // Nothing for 20 rows of 60 s, then 10 W in steps of 36 J.
        var points = Enumerable.Range(0, 60).Select(i => (60.0 * i, Cut(600.0 * Math.Max(0, i - 20), 36))).ToList();
        var stretches = CounterCurve.Of(points, 36);
        Assert.Equal(0, stretches[0].EnergyJ);
        Assert.Equal(1200, stretches[0].ToS);
    }

    [Theory]
    [InlineData(new[] { 5.00, 5.01, 5.03, 5.10 }, 0.01)]
    [InlineData(new[] { 5.0, 6.0, 8.0, 9.0 }, 1.0)]
    [InlineData(new[] { 1.235, 7.682, 9.991, 12.02 }, 0.001)]
    [InlineData(new[] { 2.0, 2.5, 3.0, 4.5 }, 0.5)]
    public void The_step_is_the_greatest_that_fits_all_advances(double[] wh, double stepWh)
    {
        var points = wh.Select((w, i) => new CounterPoint(i, w * 3600, CounterVerdict.Good, false)).ToList();
        Assert.Equal(stepWh, CounterStep.Of(points, 3600) / 3600, 1e-9);
    }

    [Fact]
    public void A_counter_that_never_moves_shows_no_step() =>
        Assert.Equal(double.NaN,
            CounterStep.Of([new CounterPoint(0, 0, CounterVerdict.Good, false), new CounterPoint(1, 0, CounterVerdict.Good, false)], 3600));

    [Fact]
    public void More_readings_than_are_kept_change_no_energy()
    {
        var rows = Rows(Enumerable.Range(0, 200_000).Select(i => (double)(i / 3))).ToList();
        var whole = Finished(rows, CounterOnly());
        Assert.Equal(199_999 / 3, whole.CounterEnergyJ);
        Assert.True(whole.Counted.Count <= CounterPoints.Most + 1);
        var joined = InPieces(rows, CounterOnly(), 50_000, 50_001, 140_000);
        Assert.Equal(whole.Counted, joined.Counted);
        Assert.Equal(whole.EnergyJ.Value, joined.EnergyJ.Value);
    }
}
