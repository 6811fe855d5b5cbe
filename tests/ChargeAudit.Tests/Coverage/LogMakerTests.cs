using ChargeAudit.LogMaker;
using ChargeAudit.LogMaker.Chargers;
using ChargeAudit.LogMaker.Coverage;
using ChargeAudit.LogMaker.Meters;
using ChargeAudit.LogMaker.Studies;
using ChargeAudit.LogMaker.Traces;

namespace ChargeAudit.Tests.Coverage;

/// <summary>The log maker's truths are checked against sums of ten-millisecond slices and arithmetic by hand.</summary>
public class LogMakerTests
{
    private const double SliceS = 0.01;

    [Fact]
    public void It_shares_nothing_with_the_program() =>
        Assert.DoesNotContain(typeof(StudyMaker).Assembly.GetReferencedAssemblies(),
            a => a.Name!.StartsWith("ChargeAudit", StringComparison.Ordinal));

    [Theory]
    [InlineData(1)]
    [InlineData(7)]
    [InlineData(22)]
    public void A_runs_energy_is_the_sum_of_its_slices(ulong seed)
    {
        Dice dice = new(seed);
        (_, Charger pad) = ChargerDraw.Pair(1800, 1, 0, double.PositiveInfinity, dice);
        Course course = Course.OfRun(pad, new Plan(120, 300, 60), dice);
        foreach (Place place in new[] { Place.Wall, Place.Usb })
        {
            double sumJ = 0;
            for (double t = course.StartS + (SliceS / 2); t < course.EndS; t += SliceS)
            {
                sumJ += SliceS * course.PowerW(place).At(t);
            }

            Assert.Equal(sumJ / 3600, course.EnergyWh(place), course.EnergyWh(place) * 1e-4);
        }
    }

    [Fact]
    public void The_mean_of_many_runs_is_the_stated_energy()
    {
        Dice dice = new(5);
        (Charger cable, _) = ChargerDraw.Pair(1800, 1, 0, double.PositiveInfinity, dice);
        List<double> energies = [.. Enumerable.Range(0, 4000)
            .Select(_ => Course.OfRun(cable, new Plan(10, 10, 0), dice).EnergyWh(Place.Wall))];
        double mean = energies.Average();
        double spread = Math.Sqrt(energies.Average(e => (e - mean) * (e - mean)));
        Assert.InRange(cable.EnergyWh(Place.Wall), mean - (4 * spread / Math.Sqrt(4000)), mean + (4 * spread / Math.Sqrt(4000)));
    }

    // 2 W for 0.2 s of every 1 s on 0.5 W: 0.5 + 0.2 · 1.5 = 0.8 W.
    [Fact]
    public void Pulses_have_the_mean_that_their_duty_gives()
    {
        Levels pulsed = new(0.5, 2, 1, 0.2);
        Assert.Equal(0.8, pulsed.MeanW, 12);
        Assert.Equal(0.8 * 100, pulsed.For(100, 0.37).IntegralTo(100), 9);
        Assert.Equal(2, pulsed.For(100, 0.37).At(0.64));
        Assert.Equal(0.5, pulsed.For(100, 0.37).At(0.84));
    }

    // 8 W that halves every 100 s over 200 s: 100/ln 2 · (8 − 2) J.
    [Fact]
    public void A_fall_has_its_closed_form() =>
        Assert.Equal(600 / Math.Log(2), Piece.Decay(200, 8, 0, 100 / Math.Log(2)).IntegralTo(200), 9);

    [Fact]
    public void A_counter_shows_whole_steps_and_never_runs_back()
    {
        Dice dice = new(3);
        (Charger cable, _) = ChargerDraw.Pair(1800, 1, 0, double.PositiveInfinity, dice);
        MeterSheet counter = MeterDraw.Of("plug", Place.Wall, RowKind.CounterOnly, false, 5, dice) with
        {
            CounterStepWh = 0.1,
            PowerError = new Limit(0, 0),
        };
        Course course = Course.OfRun(cable, new Plan(60, 60, 0), dice);
        IReadOnlyList<LogRow> rows = Logging.Of(course, counter, dice);
        Assert.All(rows.Zip(rows.Skip(1)), p => Assert.True(p.Second.CounterWh >= p.First.CounterWh));
        Assert.All(rows, r => Assert.Equal(Math.Round(r.CounterWh / 0.1), r.CounterWh / 0.1, 6));
        Assert.Equal(course.EnergyWh(Place.Wall), rows[^1].CounterWh - rows[0].CounterWh, 0.15);
    }

    [Fact]
    public void Readings_stay_within_the_data_sheet()
    {
        for (ulong seed = 0; seed < 400; seed++)
        {
            MeterSheet meter = MeterDraw.Of("plug", Place.Wall, RowKind.Instantaneous, false, 1, new Dice(seed));
            double furthest = meter.StepStated ? 0 : meter.PowerStep / 2;
            Assert.True(Math.Abs(meter.PowerError.Gain) <= meter.PowerLimit.Gain);
            Assert.True(Math.Abs(meter.PowerError.Offset) + furthest <= meter.PowerLimit.Offset + 1e-12);
        }
    }

    [Fact]
    public void A_seed_gives_the_same_files_again()
    {
        MadeStudy once = StudyMaker.Of(42);
        MadeStudy again = StudyMaker.Of(42);
        Assert.Equal(once.Files, again.Files);
        Assert.Equal(once.Truths.Select(t => (t.Figure, t.Method, t.Value, t.IdealHalfWidth)),
            again.Truths.Select(t => (t.Figure, t.Method, t.Value, t.IdealHalfWidth)));
    }

    // 7 charges of 18 Wh and 2.5 h, 8 h on the charger, 0.6 W full, 0.25 W waiting: the sum of docs/year.md, 9.2345 kWh in 365 days of 24
    // h.
    [Fact]
    public void A_year_is_the_sum_of_its_hours() =>
        Assert.Equal(9.2345, new UseOfIt(7, 8, 0.3).YearKwh(18, 9000, 0.6, 0.25), 4);

    // Clopper and Pearson's limits for 0 of 10 at 95 %: 0 and 1 − 0.025^(1/10).
    [Fact]
    public void The_limits_of_a_share_are_exact()
    {
        (double low, double high) = Binomial.Interval(0, 10, 0.95);
        Assert.Equal(0, low);
        Assert.Equal(1 - Math.Pow(0.025, 0.1), high, 9);
        Assert.Equal(0.95, Binomial.AtMost(1, 2, Math.Sqrt(0.05)), 9);
    }
}
