using ChargeAudit.Measuring.Segmentation;
using ChargeAudit.Metrology;

namespace ChargeAudit.Tests.Measuring.Counting;

/// <summary>
/// What follows a charge that a counter alone shows, where the charge is throttled, the device is in use, or the log is short. Power is
/// written down here second by second, and its sum is the truth.
/// </summary>
public sealed class CounterLevelsTests
{
    private const int WaitingS = 60;
    private const int Phases = 10;

    /// <summary>A charge of 23 and 12 W by turns, then a fall; 0.9 W for 15 min, and the log ends.</summary>
    [Theory]
    [InlineData(0.1, 1)]
    [InlineData(0.1, 5)]
    [InlineData(0.01, 2)]
    public void A_throttled_charge_ends_no_earlier_and_a_level_at_the_end_is_not_the_waiting_charger(double stepWh, int intervalS)
    {
        var power = Power(Throttled, fallsFromW: 12, fallS: 975, toW: 1, fullW: 0.9, fullS: 900);
        Holds(power, stepWh, intervalS, waits: false);
    }

    /// <summary>The same while the device takes 0.8 W more for some minutes at a time.</summary>
    [Theory]
    [InlineData(0.1, 1)]
    [InlineData(0.01, 1)]
    [InlineData(0.01, 10)]
    public void A_device_that_is_used_while_it_charges_hides_no_part_of_its_charge(double stepWh, int intervalS)
    {
        var power = Power(Throttled, fallsFromW: 7.5, fallS: 1100, toW: 1, fullW: 0.6, fullS: 1800, usedW: 0.8);
        Holds(power, stepWh, intervalS, waits: false);
    }

    /// <summary>A full device that takes 1.8 W more for 15 s every 5 min: a fine counter shows each of them.</summary>
    [Theory]
    [InlineData(0.001, 30)]
    [InlineData(0.001, 60)]
    [InlineData(0.01, 30)]
    public void Top_ups_of_a_full_device_do_not_make_its_level_begin_later(double stepWh, int intervalS)
    {
        var power = Power(t => 12, fallsFromW: 12, fallS: 900, toW: 1.2, fullW: 0.7, fullS: 4000, topUpW: 1.8);
        Holds(power, stepWh, intervalS, waits: false);
    }

    /// <summary>The charger takes more for a full device than the fall went down to: that level is no charge.</summary>
    [Theory]
    [InlineData(0.001, 2)]
    [InlineData(0.01, 15)]
    [InlineData(0.01, 60)]
    public void A_full_device_that_takes_more_than_the_end_of_the_fall_is_not_charged_on(double stepWh, int intervalS)
    {
        var power = Power(t => 6, fallsFromW: 6, fallS: 800, toW: 0.4, fullW: 0.7, fullS: 5400);
        power.AddRange(Enumerable.Repeat(0.1, 600));
        Holds(power, stepWh, intervalS, waits: true);
    }

    /// <summary>A full device takes 1.2 W for 40 min and then 2 W to the end of the log, as with its screen lit: it was full before.</summary>
    [Theory]
    [InlineData(0.001, 10)]
    [InlineData(0.001, 30)]
    [InlineData(0.01, 30)]
    [InlineData(0.01, 60)]
    public void A_full_device_that_takes_more_later_on_was_full_before(double stepWh, int intervalS)
    {
        var power = Power(t => 12, fallsFromW: 12, fallS: 900, toW: 1.2, fullW: 1.2, fullS: 2400);
        power.AddRange(Enumerable.Repeat(2.0, 1800));
        _fullW = double.NaN; // It has no one level, and where the second one begins the device may have been taken off.
        Holds(power, stepWh, intervalS, waits: false);
    }

    /// <summary>Taken off five minutes before the log ends; the energy of that time is less than a step of the counter.</summary>
    [Theory]
    [InlineData(0.01, 1)]
    [InlineData(0.1, 2)]
    public void A_device_taken_off_too_late_to_be_seen_lowers_no_level(double stepWh, int intervalS)
    {
        var power = Power(t => 8, fallsFromW: 8, fallS: 410, toW: 1.2, fullW: 0.6, fullS: 1800, topUpW: 1.2);
        power.AddRange(Enumerable.Repeat(0.1, 300));
        Holds(power, stepWh, intervalS, waits: true);
    }

    /// <summary>Waiting, 20 s in which charger and device agree, a strong charge, and the device is taken off at once.</summary>
    [Theory]
    [InlineData(0.001, 1)]
    [InlineData(0.001, 2)]
    public void What_waits_before_a_stage_of_some_seconds_is_known_again_after_the_charge(double stepWh, int intervalS)
    {
        const double WaitingW = 0.052;
        int fallS = (int)(320 * Math.Log(260 / 8.0));
        List<double> power =
        [
            .. Enumerable.Repeat(WaitingW, 549), .. Enumerable.Repeat(2.3, 20), .. Enumerable.Repeat(260.0, 600),
            .. Enumerable.Range(0, fallS).Select(t => 260 * Math.Exp(-(t + 0.5) / 320)), .. Enumerable.Repeat(WaitingW, 900),
        ];

        var last = CounterLog.Of(power, stepWh, intervalS, 0.4 * stepWh).Modes[^1];

        Assert.True(last.Span.Mode is Mode.Off or Mode.NoLoad, last.Span.Mode.ToString());
        Assert.Equal(WaitingW, last.MeanPower.Value!.Value, 0.1 * WaitingW);
    }

    /// <summary>The row in which the charge starts says nothing about what waited before it, and a full device is no waiting charger.
    /// </summary>
    [Theory]
    [InlineData(0.01, 60, 0.04, 1081, 20, 0.158)]
    [InlineData(0.01, 60, 0.04, 1139, 20, 0.158)]
    [InlineData(0.001, 600, 0.1, 1818, 7, 0.449)]
    [InlineData(0.001, 600, 0.1, 2350, 7, 0.449)]
    public void A_full_device_is_not_taken_for_what_the_first_row_of_its_charge_shows(double stepWh, int intervalS, double waitingW,
        int waitingS, double chargeW, double fullW)
    {
        int fallS = (int)(900 * Math.Log(chargeW / fullW));
        List<double> power =
        [
            .. Enumerable.Repeat(waitingW, waitingS), .. Enumerable.Repeat(chargeW, 5400),
            .. Enumerable.Range(0, fallS).Select(t => chargeW * Math.Exp(-(t + 0.5) / 900)),
            .. Enumerable.Repeat(fullW, 20 * Math.Max(300, intervalS)),
        ];

        for (int k = 0; k < Phases; k++)
        {
            var last = CounterLog.Of(power, stepWh, intervalS, stepWh * (k + 0.5) / Phases).Modes[^1];

            Assert.Equal(Mode.Maintenance, last.Span.Mode);
            Assert.Equal(fullW, last.MeanPower.Value!.Value, 0.1 * fullW);
        }
    }

    private static double Throttled(int t) => t / 300 % 3 == 2 ? 12 : 23;

    private double _chargeWh;
    private double _fullW;

    private void Holds(List<double> power, double stepWh, int intervalS, bool waits)
    {
        int held = 0;
        var wrong = new List<string>();
        for (int k = 0; k < Phases; k++)
        {
            var log = CounterLog.Of(power, stepWh, intervalS, stepWh * (k + 0.5) / Phases);
            var charge = Assert.Single(log.Modes, m => m.Span.Mode == Mode.Charge);
            var energy = charge.Energy.Interval()!.Value;
            held += _chargeWh >= energy.Low && _chargeWh <= energy.High ? 1 : 0;
            Assert.True(energy.High - energy.Low < 0.4 * _chargeWh, InvariantText.Of($"{energy.Low:F3} to {energy.High:F3}"));
            foreach (var mode in log.Modes.Where(m => m.Span.StartS > charge.Span.StartS && m.MeanPower.Value is not null))
            {
                Assert.True(mode.Span.Mode != Mode.NoLoad || waits, InvariantText.Of($"waits from {mode.Span.StartS:F0} s"));
                if (mode.Span.Mode == Mode.Maintenance && mode.MeanPower.Value!.Interval() is { } level)
                {
                    if (_fullW < level.Low || _fullW > level.High)
                    {
                        wrong.Add(InvariantText.Of($"{level.Low:F4} to {level.High:F4} W for {_fullW:F4} W"));
                    }
                }
            }
        }

        Assert.InRange(held, Phases - 1, Phases);
        Assert.True(wrong.Count <= 1, string.Join("; ", wrong));
    }

    private List<double> Power(Func<int, double> firstW, double fallsFromW, double fallS, double toW, double fullW, int fullS,
        double usedW = 0, double topUpW = 0)
    {
        const int FirstS = 3600;
        int fallLengthS = (int)(fallS * Math.Log(fallsFromW / toW));
        var charge = Enumerable.Range(0, FirstS).Select(firstW)
            .Concat(Enumerable.Range(0, fallLengthS).Select(t => fallsFromW * Math.Exp(-(t + 0.5) / fallS)))
            .Select((w, t) => w + (t / 140 % 2 == 1 ? usedW : 0)).ToList();
        var full = Enumerable.Range(0, fullS).Select(t => fullW + (t % 300 < 15 ? topUpW : 0)).ToList();
        _chargeWh = charge.Sum() / 3600;
        _fullW = fullW + (topUpW * 15 / 300);
        return [.. Enumerable.Repeat(0.1, WaitingS), .. charge, .. full];
    }
}
