using ChargeAudit.Logs;
using ChargeAudit.Measuring;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;
using static ChargeAudit.Tests.Measuring.TextLog;

namespace ChargeAudit.Tests.Measuring;

/// <summary>A counter beside readings that is there for part of the time, or that fell, at about 10 W, so that every true energy is a
/// sum of products.</summary>
public sealed class CounterBesideReadingsTests
{
    private const double PowerW = 10;

    // A block of rows that an export wrote again with one decimal: no readings are the same, and the counter falls back with them.
    [Theory]
    [InlineData(300, 900)]
    [InlineData(1000, 1100)]
    public void A_counter_that_falls_where_the_clock_was_set_holds_rows_that_stand_twice(int from, int to)
    {
        static double PowerAt(int t) => PowerW + (0.137 * (t * 7 % 5)) + (t / 300.0);
        static string Rows(IEnumerable<int> times, string format) => string.Concat(Of("", times, (format, PowerAt),
            ("F4", t => 50 + (Enumerable.Range(0, t).Sum(PowerAt) / 3600))).Split('\n', 2)[1]);
        string text = "time (s),power (W),energy (Wh)\n" + Rows(Enumerable.Range(0, to), "F3")
            + Rows(Enumerable.Range(from, to - from), "F1") + Rows(Enumerable.Range(to, 2000 - to), "F3");
        var interval = Measure(text, MeasuringPoint.Wall, null, (LogQuantity.Power, "0.5 %"), (LogQuantity.Energy, "0.5 %"))
            .Energy.Interval()!.Value;

        Assert.InRange(Enumerable.Range(0, 1999).Sum(PowerAt) / 3600, interval.Low, interval.High);
    }

    // The mean of a quarter of an hour holds 2.5 Wh that the counter, read at the stamps, does not show.
    [Theory]
    [InlineData(SampleKind.AverageEnding, 900, 8)]
    [InlineData(SampleKind.AverageStarting, 900, 8)]
    [InlineData(SampleKind.AverageEnding, 10, 700)]
    [InlineData(SampleKind.AverageStarting, 10, 700)]
    public void A_mean_beyond_the_counters_readings_counts_where_the_counter_is_surer(SampleKind kind, int intervalS, int rows)
    {
        // Readings 2 % too high within 5 %, the counter exact; powers of three sizes, so that a row's energy is no step of it.
        static double PowerIn(int row) => PowerW + (0.137 * (row % 3));
        double BeforeWh(int row) => Enumerable.Range(0, row).Sum(i => PowerIn(i) * intervalS / 3600);
        bool ends = kind == SampleKind.AverageEnding;
        string text = Of("time (s),power (W),energy (Wh)", Enumerable.Range(0, rows).Select(i => i * intervalS),
            ("F3", t => 1.02 * PowerIn(t / intervalS)), ("F3", t => 50 + BeforeWh((t / intervalS) + (ends ? 1 : 0))));
        var log = Measure(text, MeasuringPoint.Wall, new LogOptions { Samples = kind }, (LogQuantity.Power, "5 %"),
            (LogQuantity.Energy, "0.05 %"));
        double trueWh = BeforeWh(rows);
        double byReadingsWh = PowerIn(ends ? 0 : rows - 1) * intervalS / 3600;

        Assert.Equal(trueWh + (0.02 * byReadingsWh), log.Energy.Value, 0.01);
        var interval = log.Energy.Interval()!.Value;
        Assert.InRange(trueWh, interval.Low, interval.High);
        Assert.True(interval.High - interval.Low < 0.04 * trueWh, "the counter was not taken");
    }

    [Theory]
    [InlineData(0.7)]
    [InlineData(1.4)]
    public void Readings_that_a_counter_contradicts_are_told_though_it_fell(double off)
    {
        var log = Beside(off, resetAtS: 1800, toS: 3600);
        var interval = log.Energy.Interval()!.Value;

        Assert.InRange(PowerW, interval.Low, interval.High);
        Assert.InRange(off * PowerW, interval.Low, interval.High);
        Assert.Contains("reaches from one to the other", Assert.Single(log.Faults, f => f.Kind == FaultKind.CounterMismatch).Detail,
            StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(0.7)]
    [InlineData(1.4)]
    public void Readings_that_a_counter_contradicts_are_told_though_it_is_there_for_part_of_the_log(double off)
    {
        var log = Beside(off, resetAtS: int.MaxValue, toS: 2400);
        var interval = log.Energy.Interval()!.Value;

        Assert.InRange(PowerW * (2400 + (off * 1200)) / 3600, interval.Low, interval.High);
        Assert.Contains(log.Faults, f => f.Kind == FaultKind.CounterMismatch);
    }

    [Theory]
    [InlineData(1800, 3600)]
    [InlineData(int.MaxValue, 2400)]
    [InlineData(1800, 2400)]
    public void A_counter_that_agrees_as_far_as_it_goes_contradicts_nothing(int resetAtS, int toS)
    {
        var log = Beside(1, resetAtS, toS);
        var interval = log.Energy.Interval()!.Value;

        Assert.InRange(PowerW, interval.Low, interval.High);
        Assert.True(interval.High - interval.Low < 0.2);
        Assert.DoesNotContain(log.Faults, f => f.Kind == FaultKind.CounterMismatch);
    }

    // An hour of rows each 2 s, readings off by a factor, a counter that falls to zero at a time and is empty from another.
    private static LogMeasurement Beside(double off, int resetAtS, int toS)
    {
        string text = Of("time (s),power (W),energy (Wh)", Enumerable.Range(0, 1801).Select(i => 2 * i), ("F3", _ => off * PowerW),
            ("F4", t => t > toS ? double.NaN : (PowerW * (t < resetAtS ? t + 9000 : t - resetAtS) / 3600)));
        return Measure(text.Replace("NaN", "", StringComparison.Ordinal), MeasuringPoint.Wall, null, (LogQuantity.Power, "0.5 %"),
            (LogQuantity.Energy, "0.5 %"));
    }
}
