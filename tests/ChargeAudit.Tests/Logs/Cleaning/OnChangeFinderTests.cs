using ChargeAudit.Logs;
using ChargeAudit.Logs.Layout;
using ChargeAudit.Metrology;
using ChargeAudit.Tests.Logs.Reading;

namespace ChargeAudit.Tests.Logs.Cleaning;

public class OnChangeFinderTests
{
    [Fact]
    public void Long_intervals_that_end_with_one_and_the_same_step_are_written_on_change() =>
        Assert.Equal(SampleKind.OnChange, Layout(Taper(signOfLifeS: null)).Samples);

    // The same with a row after each 300 s without a change, which repeats the value.
    [Fact]
    public void Rows_that_repeat_the_value_after_a_fixed_time_do_not_hide_it()
    {
        var layout = Layout(Taper(signOfLifeS: 300));
        Assert.Equal(SampleKind.OnChange, layout.Samples);
        Assert.Equal(0.5, layout.ChangeThreshold!.Amount, 9);
    }

    // An even log in which rows were lost where nothing changed.
    [Fact]
    public void Lost_rows_of_a_steady_load_are_gaps() =>
        Assert.Equal(SampleKind.Instantaneous,
            Layout(Enumerable.Range(0, 200).Where(i => i % 20 is < 12).Select(i => (i * 10.0, 5.0))).Samples);

    [Fact]
    public void The_smallest_change_bounds_a_threshold_that_nobody_told()
    {
        var layout = Layout([(0, 0.3), (600, 9), (4200, 5), (6000, 2), (7800, 0.5), (9600, 0.6), (9900, 0.5)], new LogOptions
        {
            Samples = SampleKind.OnChange,
        });
        Assert.Equal(LogQuantity.Power, layout.ChangeThreshold!.Quantity);
        Assert.Equal(0.1, layout.ChangeThreshold.Amount, 9);
    }

    [Fact]
    public void A_told_threshold_says_that_the_log_is_written_on_change()
    {
        var layout = Layout([(0, 0.3), (600, 9), (4200, 5)], new LogOptions
        {
            ChangeThreshold = new ChangeThreshold(LogQuantity.Power, 0.25),
        });
        Assert.Equal(SampleKind.OnChange, layout.Samples);
        Assert.Equal(0.25, layout.ChangeThreshold!.Amount);
    }

    // A taper from 10 W with time constant 1000 s, looked at every 20 s: a row where power fell by 0.1 W since the last one.
    [Fact]
    public void Rows_that_lie_whole_looks_apart_tell_how_often_the_logger_looks()
    {
        List<(double, double)> rows = [];
        double written = double.NaN;
        for (double t = 0; t < 4000; t += 20)
        {
            double power = 10 * Math.Exp(-t / 1000);
            if (!(Math.Abs(power - written) < 0.1))
            {
                rows.Add((t, Math.Round(power, 3)));
                written = power;
            }
        }

        var layout = Layout(rows, new LogOptions { Samples = SampleKind.OnChange });
        Assert.Equal(20, layout.ChangeThreshold!.LookS, 9);
    }

    // Times with no common measure: written at once.
    [Fact]
    public void Rows_at_any_time_tell_of_no_looks()
    {
        var random = new Random(3);
        double time = 0;
        var rows = Enumerable.Range(0, 60).Select(i => (time += 5 + (50 * random.NextDouble()), 10 - (0.1 * i))).ToList();
        Assert.Equal(0, Layout(rows, new LogOptions { Samples = SampleKind.OnChange }).ChangeThreshold!.LookS);
    }

    // Two signs of life of 0.29 W between jumps of a watt: the threshold is a watt.
    [Fact]
    public void Two_signs_of_life_do_not_pass_for_the_threshold()
    {
        var layout = Layout(
            [(0, 0.03), (130, 2.82), (131, 8.71), (731, 9), (1331, 9.29), (1791, 8.28), (1860, 7.27), (1940, 6.26), (2035, 5.26),
                (2150, 4.26), (2300, 3.25), (2423, 2.25)],
            new LogOptions { Samples = SampleKind.OnChange });
        Assert.InRange(layout.ChangeThreshold!.Amount, 0.99, 1.02);
    }

    // Jitter between 10 and 9.5 W every 20 s; then from 10 W down by 0.5 W a row, more slowly each time.
    private static IEnumerable<(double TimeS, double PowerW)> Taper(double? signOfLifeS)
    {
        double time = 0;
        for (int i = 0; i < 40; i++)
        {
            double length = i < 20 ? 20 : 20 + (40 * (i - 20));
            double power = i < 20 ? 9.5 + (0.5 * (i % 2)) : 10 - (0.5 * (i - 19));
            yield return (time, power);
            for (double t = signOfLifeS ?? double.PositiveInfinity; t < length; t += signOfLifeS!.Value)
            {
                yield return (time + t, power);
            }

            time += length;
        }
    }

    private static LogLayout Layout(IEnumerable<(double TimeS, double PowerW)> rows, LogOptions? options = null) =>
        LogText.Of("time (s),power (W)\n" + string.Concat(rows.Select(r => InvariantText.Of($"{r.TimeS:0.###},{r.PowerW:0.0##}\n"))),
            options).Layout;
}
