using ChargeAudit.Logs;
using ChargeAudit.Measuring;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;
using static ChargeAudit.Tests.Measuring.TextLog;

namespace ChargeAudit.Tests.Measuring.Damage;

/// <summary>What bears damage out, or a reading that looks like it: the counter, voltage and current, digits, and the order of
/// times.</summary>
public sealed class WitnessTests
{
    private const int Minutes = 120;

    // 10 W for two hours, a row a minute, and one row of 100 W: between straight lines that is 90 W for a minute, 1.5 Wh on 20 Wh.
    private static double PowerW(int minute) => minute == 60 ? 100 : 10 + (0.001 * (minute % 3));

    private static string Spiked(bool counted) => Of("time (s),power (W),energy (Wh)", Enumerable.Range(0, Minutes + 1).Select(m => 60 * m),
        ("F3", t => PowerW(t / 60)), ("F3", t => (10.0 * t / 3600) + (counted ? 1.5 * Math.Clamp((t / 60.0) - 59.5, 0, 1) : 0)));

    [Fact]
    public void A_spike_that_the_counter_counted_stays()
    {
        var log = Measured(Spiked(counted: true));
        Assert.DoesNotContain(log.Faults, f => f.Kind is FaultKind.Implausible or FaultKind.CounterMismatch);
        Assert.Equal(21.5, log.Energy.Value, 0.05);
    }

    [Fact]
    public void A_spike_that_the_counter_did_not_count_is_left_out()
    {
        var log = Measured(Spiked(counted: false));
        Assert.Equal(62, Assert.Single(log.Faults, f => f.Kind == FaultKind.Implausible).FirstLine);
        Assert.Equal(20, log.Energy.Value, 0.05);
    }

    // A charge of 6 W that sinks to 5 W, then its tenth, or ten or a hundred times as much, in the digits that such a number has.
    [Theory]
    [InlineData(10, "F2")]
    [InlineData(100, "F1")]
    [InlineData(0.1, "F4")]
    [InlineData(0.01, "F5")]
    public void Digits_tell_a_unit_that_changes(double factor, string format)
    {
        string before = Of("time (s),power (W)", Enumerable.Range(0, 900), ("F3", t => 6 - (t / 1800.0)));
        string after = Of("", Enumerable.Range(900, 900), (format, t => factor * Math.Round(6 - (t / 1800.0), 3)));
        var refused = Assert.Throws<InputException>(() => Measured(before + after.TrimStart('\n')));
        Assert.StartsWith("log.csv, line 902:", refused.Message, StringComparison.Ordinal);
    }

    // The same step, as a charge that ends makes it: 6 W, then 0.6 W, with the same number of decimals.
    [Fact]
    public void A_charge_that_ends_at_a_tenth_is_no_change_of_unit()
    {
        var log =
            Measured(
                Of("time (s),power (W)", Enumerable.Range(0, 1800), ("F3", t => t < 900 ? 6 - (t / 1800.0) : 0.55 + (0.001 * (t % 2)))));
        Assert.DoesNotContain(log.Faults, f => f.Kind == FaultKind.ChangedUnit);
    }

    [Theory]
    [InlineData(1000, 1)]
    [InlineData(1, 1000)]
    public void Power_tells_a_voltage_or_current_whose_unit_changes(double voltageFactor, double currentFactor)
    {
        string text = Of("time (s),voltage (V),current (A),power (W)", Enumerable.Range(0, 600),
            ("F3", t => t < 300 ? 9 : 9 * voltageFactor), ("F4", t => t < 300 ? 1.2 : 1.2 * currentFactor), ("F3", _ => 10.8));
        var refused = Assert.Throws<InputException>(() => Measured(text, MeasuringPoint.Usb));
        Assert.StartsWith("log.csv, line 302:", refused.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_counter_that_shows_thousandths_of_itself_refuses_the_log()
    {
        string text = Of("time (s),energy (Wh)", Enumerable.Range(0, 400).Select(m => 60 * m),
            ("F3", t => (t < 12000 ? 1 : 1000) * (40 + (t / 600.0))));
        var refused = Assert.Throws<InputException>(() => Measured(text));
        Assert.StartsWith("log.csv, line 202:", refused.Message, StringComparison.Ordinal);
    }

    // 12 W for 40 min. For 5 min of them the stamps stand still and then go on from there: 8 Wh by all rows, 7 Wh by the stamps, and either
    // may be true.
    [Fact]
    public void Where_the_clock_stands_still_the_interval_reaches_to_all_rows()
    {
        string text = "time (s),power (W)\n" + string.Concat(Enumerable.Range(0, 2401).Select(i =>
            InvariantText.Of($"{(i < 1000 ? i : i < 1300 ? 1000 : i - 300)},{12 + (0.001 * (i % 7)):F3}\n")));
        var log = Measured(text);
        var interval = log.Energy.Interval()!.Value;
        Assert.Contains(log.Faults, f => f.Kind == FaultKind.TimeDuplicate);
        Assert.InRange(8.0, interval.Low, interval.High);
    }

    // A block of 400 s is repeated with its stamps going on, so that those of the next rows go back: about 12.5 W for 2000 s are 6.9 Wh.
    [Fact]
    public void Rows_written_twice_with_stamps_that_go_on_count_once()
    {
        var random = new Random(3);
        double[] power = [.. Enumerable.Range(0, 2001).Select(_ => 12 + random.NextDouble())];
        int[] rows = [.. Enumerable.Range(0, 1000), .. Enumerable.Range(600, 400), .. Enumerable.Range(1000, 1001)];
        int[] stamps = [.. Enumerable.Range(0, 1400), .. Enumerable.Range(1000, 1001)];
        string text = "time (s),power (W)\n" + string.Concat(rows.Zip(stamps, (r, s) => InvariantText.Of($"{s},{power[r]:F3}\n")));
        var log = Measured(text);
        Assert.Equal((1002, 1401, 400L), log.Faults.Where(f => f.Kind == FaultKind.RepeatedRows)
            .Select(f => ((int)f.FirstLine, (int)f.LastLine, f.Count)).Single());
        Assert.DoesNotContain(log.Faults, f => f.Kind == FaultKind.ClockStep);
        Assert.Equal(2000 * power.Average() / 3600, log.Energy.Value, 0.02);
    }

    [Fact]
    public void A_log_whose_rows_are_shuffled_is_refused()
    {
        var random = new Random(5);
        int[] order = [.. Enumerable.Range(0, 400), .. Enumerable.Range(400, 200).Concat(Enumerable.Range(400, 200))
            .OrderBy(_ => random.Next()), .. Enumerable.Range(600, 3000)];
        string text = "time (s),power (W)\n" + string.Concat(order.Select(s => InvariantText.Of($"{s},{10 + (0.001 * (s % 5)):F3}\n")));
        var refused = Assert.Throws<InputException>(() => Measured(text));
        Assert.Contains("log.csv", refused.Message, StringComparison.Ordinal);
    }

    private static LogMeasurement Measured(string text, MeasuringPoint point = MeasuringPoint.Wall) => Measure(
        text, point, new() { Samples = SampleKind.Instantaneous },
        (LogQuantity.Power, "0.2 % + 2 mW"), (LogQuantity.Energy, "0.2 %"), (LogQuantity.Voltage, "0.1 %"), (LogQuantity.Current, "0.1 %"));
}
