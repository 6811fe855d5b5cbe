using ChargeAudit.Logs;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;
using static ChargeAudit.Tests.Measuring.TextLog;

namespace ChargeAudit.Tests.Measuring;

/// <summary>A meter whose zero lies below zero, and one that was wired the other way round.</summary>
public sealed class MeterZeroTests
{
    private static readonly (LogQuantity, string)[] TenMilliamperes = [(LogQuantity.Voltage, "0.05 % + 2 mV"),
        (LogQuantity.Current, "0.1 % + 10 mA")];

    // 9 V and 1 A for 1800 s, then 5400 s of −9 mA: 16 200 J, one second from 9 W to −0.081 W, and 5399 s of −0.081 W.
    private const double WholeJ = (9 * 1800) + (0.5 * (9 - 0.081)) + (-0.081 * 5399);

    [Fact]
    public void Readings_within_the_stated_limits_of_zero_count_with_their_sign()
    {
        var log = Measure(Charge(-0.009), MeasuringPoint.Usb, null, TenMilliamperes);
        Assert.Equal(WholeJ / 3600, log.Energy.Value, 9);
        Assert.DoesNotContain(log.Faults, f => f.Kind == FaultKind.Reversed);
        Assert.DoesNotContain(log.Doubts, d => d.Text.Contains("flows back", StringComparison.Ordinal));

        // The truth, 4.5 Wh, lies inside: the offset reaches the energy by ∫V dt = 9 V · 7200 s, ±10 mA · 64 800 V s = 648 J.
        var interval = log.Energy.Interval()!.Value;
        Assert.InRange(4.5, interval.Low, interval.High);
    }

    // Limits: 10 mA and two steps of 1 mA, so −11 mA is a zero of this meter and −13 mA is not. Without a statement 10 mA holds, and at 9 V
    // 90 mW.
    [Theory]
    [InlineData(-0.011, true, 0)]
    [InlineData(-0.013, true, 5400)]
    [InlineData(-0.010, false, 0)]
    [InlineData(-0.011, false, 5400)]
    public void A_reading_flows_the_wrong_way_where_it_lies_beyond_the_limits_of_zero(double idleA, bool stated, long reversed)
    {
        string text = Of("time (s),voltage (V),current (A)", Enumerable.Range(0, 7201), ("F3", _ => 9),
            ("F3", t => t <= 1800 ? 1 + (0.001 * (t % 3)) : idleA));
        var log = Measure(text, MeasuringPoint.Usb, null, stated ? TenMilliamperes : []);
        Assert.Equal(reversed, log.Faults.Where(f => f.Kind == FaultKind.Reversed).Sum(f => f.Count));
    }

    // A power column stated to ±30 mW in steps of 1 mW: the least limit is 50 mW, and ±80 mW with two steps reaches to 82 mW.
    [Theory]
    [InlineData(-0.049, "1 % + 30 mW", 0)]
    [InlineData(-0.055, "1 % + 30 mW", 3600)]
    [InlineData(-0.081, "1 % + 80 mW", 0)]
    [InlineData(-0.090, "1 % + 80 mW", 3600)]
    public void A_column_of_power_has_the_limits_of_its_own_accuracy(double idleW, string accuracy, long reversed)
    {
        string text = Of("time (s),power (W)", Enumerable.Range(0, 7201),
            ("F3", t => t <= 3600 ? 10 + (0.001 * (t % 3)) : idleW + (0.001 * (t % 2))));
        var log = Measure(text, MeasuringPoint.Usb, null, (LogQuantity.Power, accuracy));
        Assert.Equal(reversed, log.Faults.Where(f => f.Kind == FaultKind.Reversed).Sum(f => f.Count));
    }

    [Theory]
    [InlineData(MeasuringPoint.Usb, true)]
    [InlineData(MeasuringPoint.Device, false)]
    public void What_cannot_be_told_from_zero_is_called_so_and_its_interval_ends_at_zero_where_flow_cannot_reverse(MeasuringPoint point,
        bool oneWay)
    {
        string text =
            Of("time (s),voltage (V),current (A)", Enumerable.Range(0, 3601), ("F3", _ => 5), ("F4", t => -0.002 + (0.0001 * (t % 2))));
        var log = Measure(text, point, null, (LogQuantity.Voltage, "0.05 % + 2 mV"), (LogQuantity.Current, "0.1 % + 10 mA"));
        var interval = log.Energy.Interval()!.Value;

        // −1.95 mA at 5 V for an hour, and an offset anywhere within ±10 mA: ±50 mWh, of which a rectangular error's 95 % is the greater
        // part.
        Assert.Equal(-0.00975, log.Energy.Value, 1e-6);
        Assert.Equal(0.05 / Math.Sqrt(3), log.Energy.StandardUncertainty!.Value, 1e-4);
        Assert.Equal(-0.00975 + (0.95 * 0.05), interval.High, 1e-3);
        Assert.Equal(oneWay ? 0 : -0.00975 - (0.95 * 0.05), interval.Low, 1e-3);
        Assert.Contains(log.Doubts, d => d.Text.Contains("not distinguishable from zero", StringComparison.Ordinal)
            && d.Text.Contains("ends at zero", StringComparison.Ordinal) == oneWay);
    }

    [Fact]
    public void A_figure_well_above_zero_is_not_called_so()
    {
        string text =
            Of("time (s),voltage (V),current (A)", Enumerable.Range(0, 3601), ("F3", _ => 5), ("F4", t => 0.1 + (0.0001 * (t % 2))));
        var log = Measure(text, MeasuringPoint.Usb, null, TenMilliamperes);
        Assert.DoesNotContain(log.Doubts, d => d.Text.Contains("not distinguishable", StringComparison.Ordinal));
    }

    // The charge is shorter than the waiting, so fewer than half of the readings are negative; by energy the log still flows the wrong way.
    [Fact]
    public void A_meter_wired_the_other_way_round_is_refused_with_the_option_that_mends_it()
    {
        string text =
            Of("time (s),voltage (V),current (A)", Enumerable.Range(0, 7201), ("F3", _ => 9), ("F3", t => t <= 1800 ? -1 : 0.009));
        var refused = Assert.Throws<InputException>(() => Measure(text, MeasuringPoint.Usb, null, TenMilliamperes));
        Assert.Equal(Remedy.Sign, refused.Remedy);
        Assert.Contains("line 2", refused.Message, StringComparison.Ordinal);

        var turned = Measure(text, MeasuringPoint.Usb, new LogOptions { Sign = FlowSign.Turned }, TenMilliamperes);
        Assert.Equal(WholeJ / 3600, turned.Energy.Value, 9);
    }

    [Theory]
    [InlineData("time (s),power (W)", "F1")]
    [InlineData("time (s),current (A),voltage (V)", "F1")]
    public void The_sign_turns_power_and_current_and_nothing_else(string header, string format)
    {
        string text = Of(header, Enumerable.Range(0, 3601),
            [.. header.Split(',').Skip(1).Select(h => (format, (Func<int, double>)(_ => h.StartsWith('v') ? 5 : -2.0)))]);
        double expected = header.Contains("power", StringComparison.Ordinal) ? 2 : 10;
        Assert.Equal(expected, Measure(text, MeasuringPoint.Usb, new LogOptions { Sign = FlowSign.Turned }).Energy.Value, 9);
    }

    private static string Charge(double idleA) =>
        Of("time (s),voltage (V),current (A)", Enumerable.Range(0, 7201), ("F3", _ => 9), ("F3", t => t <= 1800 ? 1 : idleA));
}
