using ChargeAudit.Measuring.Integration;
using ChargeAudit.Measuring.Segmentation;
using ChargeAudit.Tests.Measuring.Segmentation.Truth;

namespace ChargeAudit.Tests.Measuring.Segmentation;

/// <summary>Charges that do not begin or end by the book; each power curve is drawn by hand, so its borders are known.</summary>
public sealed class OddChargeTests
{
    private static readonly Mode[] WaitChargeKeep = [Mode.NoLoad, Mode.Charge, Mode.Maintenance];

    [Theory]
    [InlineData(4.0)]
    [InlineData(2.6)]
    public void A_flat_low_stage_at_the_end_belongs_to_the_charge(double stageW) =>
        Holds(Find(14000, t => t < 1200 ? 0.1 : t < 5000 ? 10 : t < 7000 ? stageW : 0.6), WaitChargeKeep, 1200, 7000);

    [Fact]
    public void A_charge_that_steps_down_in_stairs_ends_with_the_last() =>
        Holds(Find(14000, t => t < 1200 ? 0.1 : t < 5000 ? 10 : t < 7700 ? 10 * Math.Pow(0.72, 1 + Math.Floor((t - 5000) / 450)) : 0.5),
            WaitChargeKeep, 1200, 7700);

    [Fact]
    public void A_charge_that_stops_without_a_fall_ends_where_it_stops() =>
        Holds(Find(14000, t => t < 1200 ? 0.1 : t < 6000 ? 10 : 0.5), WaitChargeKeep, 1200, 6000);

    [Fact]
    public void A_device_that_is_taken_off_at_full_power_leaves_no_maintenance() =>
        Holds(Find(12000, t => t is < 1200 or >= 5000 ? 0.1 : 10), [Mode.NoLoad, Mode.Charge, Mode.NoLoad], 1200, 5000);

    [Theory]
    [InlineData(1.7)]
    [InlineData(3.5)]
    public void A_trickle_into_an_empty_battery_belongs_to_the_charge(double trickleW) =>
        Holds(Find(14000, t => t < 1200 ? 0.1 : t < 1800 ? trickleW : t < 5000 ? 10 : t < 7000 ? 10 - (9 * (t - 5000) / 2000) : 0.5),
            WaitChargeKeep, 1200, 7000);

    [Fact]
    public void A_log_that_begins_with_the_trickle_begins_with_the_charge()
    {
        var modes = Find(14000, t => t < 600 ? 4 : t < 5000 ? 10 : t < 7000 ? 10 - (9 * (t - 5000) / 2000) : t < 11000 ? 0.5 : 0.1).Modes;
        Assert.Equal(Mode.Charge, modes[0].Mode);
        Assert.InRange(modes[0].EndS, 6990, 7010);
    }

    [Theory]
    [InlineData(4)]
    [InlineData(150)]
    public void A_device_that_is_lost_and_found_charges_on(double lostS) =>
        Holds(
            Find(14000, t => t < 1200 || (t >= 3000 && t < 3000 + lostS) ? 0.1 : t < 5000 ? 10 : t < 7000
                ? 10 - (9 * (t - 5000) / 2000)
                : 0.5),
            WaitChargeKeep, 1200, 7000);

    [Fact]
    public void A_pad_that_restarts_charges_on() =>
        Holds(
            Find(14000, t => t < 1200 ? 0.2 : t is >= 3000 and < 3006 ? 0 : t is >= 3006 and < 3012 ? 0.2 : t < 5000 ? 10 : t < 7000
                ? 10 - (9 * (t - 5000) / 2000)
                : 0.5),
            WaitChargeKeep, 1200, 7000);

    [Fact]
    public void A_pad_that_is_throttled_again_and_again_charges_on() =>
        Holds(
            Find(14000, t => t < 1200 ? 0.2 : t < 7000 ? (t - 1200) % 1000 < 650 ? 10 : 5.6 : t < 9000
                ? 10 - (9 * (t - 7000) / 2000)
                : 0.5),
            WaitChargeKeep, 1200, 9000);

    [Fact]
    public void A_device_that_is_lost_while_throttled_charges_on() =>
        Holds(
            Find(14000, t => t < 1200 ? 0.2 : t < 3000 ? 10 : t < 3500 ? 5.6 : t < 3620 ? 0.2 : t < 6000 ? 10 : t < 8000
                ? 10 - (9 * (t - 6000) / 2000)
                : 0.5),
            WaitChargeKeep, 1200, 8000);

    [Fact]
    public void A_charge_of_a_charger_that_was_off_ends_before_its_maintenance()
    {
        var finding = Find(14000, t => t < 600 ? 0 : t < 1200 ? 5.5 : t < 3600 ? 3.4 : t < 9000 ? 0.34 : 0.09);
        Assert.Equal([Mode.Off, Mode.Charge, Mode.Maintenance, Mode.NoLoad], finding.Modes.Select(m => m.Mode));
        Assert.InRange(finding.Modes[1].EndS, 3590, 3610);
    }

    [Fact]
    public void Top_ups_with_ramps_are_not_taken_for_a_long_fall()
    {
        // Each top-up rises and sinks along half a sine, so that its flanks are stretches of their own; after the last of them the device
        // is taken off.
        double Keep(double t) => t % 2000 < 160 ? 0.42 + (3 * Math.Sin(Math.PI * (t % 2000) / 160)) : 0.42;
        var finding =
            Find(18000, t => t < 1200 ? 0.26 : t < 4000 ? 10 : t < 6300 ? 10 - (9 * (t - 4000) / 2300) : t < 12160 ? Keep(t) : 0.26);
        Holds(finding, [Mode.NoLoad, Mode.Charge, Mode.Maintenance, Mode.NoLoad], 1200, 6300);
    }

    [Fact]
    public void A_step_from_maintenance_to_waiting_with_few_pulses_is_no_fall()
    {
        // Read once a second, pulses of 80 ms every 5.5 s show for minutes and then hide for minutes.
        double Waits(double t) => 0.44 + (t % 5.5 < 0.08 ? 0.4 : 0);
        var finding = Find(21000, t => t < 2500 ? 0 : t < 5000 ? Waits(t) : t < 11000 ? 2.5 : t < 16700
            ? 0.45 + (2.05 * Math.Exp(-(t - 11000) / 1700))
            : t < 18500 ? 0.4956 : Waits(t));
        Holds(finding, [Mode.Off, Mode.NoLoad, Mode.Charge, Mode.Maintenance, Mode.NoLoad], 5000, 16700);
    }

    [Fact]
    public void A_strong_waiting_pad_with_pulses_is_no_charge_that_was_cut_out()
    {
        var finding = Find(5000, t => 1.4 + (t % 3.1 < 0.25 ? 2 : 0));
        Assert.Equal([Mode.NoLoad], finding.Modes.Select(m => m.Mode));
        Assert.Contains(finding.Doubts, d => d.Text.Contains("short pulses", StringComparison.Ordinal));
    }

    private static void Holds(ModeFinding finding, Mode[] modes, double chargeFromS, double chargeToS)
    {
        Assert.Equal(modes, finding.Modes.Select(m => m.Mode));
        var charge = Assert.Single(finding.Modes, m => m.Mode == Mode.Charge);
        Assert.InRange(charge.StartS, chargeFromS - 3, chargeFromS + 3);
        Assert.InRange(charge.EndS, chargeToS - 12, chargeToS + 12);
    }

    private static ModeFinding Find(double lengthS, Func<double, double> powerW)
    {
        var random = new TruthRandom(5);
        var envelope = PowerEnvelope.ForInterval(1);
        double before = 0;
        for (int i = 0; i <= (int)lengthS; i++)
        {
            double p = powerW(i) + (powerW(i) > 0 ? 0.01 * random.Gauss() : 0);
            envelope.AddReading(i, p);
            if (i > 0)
            {
                envelope.AddInterval(new PowerInterval(i - 1, i, before, p));
            }

            before = p;
        }

        return ModeFinder.Find(envelope, ModeOptions.Default);
    }
}
