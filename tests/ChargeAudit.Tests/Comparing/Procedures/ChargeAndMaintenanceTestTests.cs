using ChargeAudit.Comparing.Procedures;
using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.Tests.Comparing.Procedures;

public class ChargeAndMaintenanceTestTests
{
    private const double Hour = 3600;

    [Fact]
    public void A_plain_day_gives_its_energy_and_the_mean_of_its_last_four_hours()
    {
        // 2 h at 8 W, 18 h at 0.4 W, 4 h at 0.3 W: 16 + 7.2 + 1.2 = 24.4 Wh.
        var log = new ChargeAndMaintenanceLog
        {
            Envelope = ProcedureCases.Steps((2 * Hour, 8), (18 * Hour, 0.4), (4 * Hour, 0.3)),
            LogEndS = 24 * Hour,
            ChargeEndS = 2 * Hour,
            FullAtS = 2 * Hour,
            MedianIntervalS = 10,
        };
        var test = ChargeAndMaintenanceTest.From(log);
        Assert.Equal(24, test.DurationH);
        Assert.Equal(24.4, test.E24.Value!.Value, 1e-9);
        Assert.Equal(0.3, test.MaintenancePower.Value!.Value, 1e-9);
        Assert.Equal("the meter's accuracy was not given", test.E24.Value.UnknownBecause);
        Assert.Equal(0, test.Window!.Cycles);
        Assert.All(test.Checks, c => Assert.Equal(ConditionState.Met, c.State));
    }

    [Fact]
    public void Cyclic_maintenance_is_averaged_over_whole_cycles_that_hold_the_last_four_hours()
    {
        // Cycles of 70 min: 10 min at 3 W, 60 min at 0.2 W: mean (0.5 + 0.2) Wh / 70 min = 0.6 W. Four of them are 280 min, the least that
        // hold 240.
        var steps = new List<(double, double)> { (2 * Hour, 8), (3600, 0.2) };
        for (int i = 0; i < 18; i++)
        {
            steps.Add((600, 3));
            steps.Add((3600, 0.2));
        }

        var envelope = ProcedureCases.Steps([.. steps]);
        var test = ChargeAndMaintenanceTest.From(new ChargeAndMaintenanceLog
        {
            Envelope = envelope,
            LogEndS = 24 * Hour,
            ChargeEndS = 2 * Hour,
            FullAtS = 2 * Hour,
            MedianIntervalS = 10,
        });
        Assert.Equal(4, test.Window!.Cycles);

        // A border of the envelope's cells (8 s) moves a rise by up to a cell, 8 s of 280 min at 3 W at most: 0.0014 W.
        Assert.Equal(0.6, test.MaintenancePower.Value!.Value, 0.0015);
        double plain = envelope.EnergyBetweenJ(20 * Hour, 24 * Hour) / (4 * Hour);
        Assert.True(Math.Abs(plain - 0.6) > 0.02, "the last four hours alone would differ");
    }

    [Fact]
    public void Pulses_at_uneven_times_or_too_seldom_are_not_taken_for_cycles()
    {
        var uneven = MaintenanceWindow.Find(
            ProcedureCases.Steps((3600, 0.2), (600, 3), (1200, 0.2), (600, 3), (7200, 0.2), (600, 3), (600, 0.2), (600, 3),
                (3 * Hour, 0.2)), 0, 7 * Hour);
        Assert.Equal(0, uneven.Cycles);
        Assert.Contains("uneven", uneven.Basis, StringComparison.Ordinal);
        var seldom = MaintenanceWindow.Find(ProcedureCases.Steps((3600, 0.2), (600, 3), (6 * Hour, 0.2)), 0, 7 * Hour);
        Assert.Contains("too seldom", seldom.Basis, StringComparison.Ordinal);
        Assert.Equal((3 * Hour, 7 * Hour), (seldom.FromS, seldom.ToS));
    }

    [Fact]
    public void Full_after_nineteen_hours_makes_the_test_five_hours_longer_than_that()
    {
        var log = new ChargeAndMaintenanceLog
        {
            Envelope = ProcedureCases.Steps((21 * Hour, 3), (7 * Hour, 0.3)),
            LogEndS = 28 * Hour,
            FullAtS = 21 * Hour,
            ChargeEndS = 21 * Hour,
            MedianIntervalS = 10,
        };
        var test = ChargeAndMaintenanceTest.From(log);
        Assert.Equal(26, test.DurationH);
        Assert.Equal(63 + 1.5, test.E24.Value!.Value, 1e-9);
        Assert.Contains(test.Checks, c => c.Id == "long-test");
    }

    [Fact]
    public void A_log_that_is_too_short_gives_no_figure()
    {
        var log = new ChargeAndMaintenanceLog
        {
            Envelope = ProcedureCases.Steps((20 * Hour, 1)),
            LogEndS = 20 * Hour,
            MedianIntervalS = 90,
        };
        var test = ChargeAndMaintenanceTest.From(log);
        Assert.Equal("the log holds 20 h of the 24 h that the procedure asks for", test.E24.WhyNot);
        Assert.Equal(ConditionState.NotMet, test.Checks.Single(c => c.Id == "test-duration").State);
        Assert.Equal(ConditionState.NotMet, test.Checks.Single(c => c.Id == "logging-interval").State);
        Assert.Equal(ConditionState.NotShown, test.Checks.Single(c => c.Id == "full-indication").State);
        var nearly = log with { Envelope = ProcedureCases.Steps((24 * Hour - 290, 1)), LogEndS = 24 * Hour - 290, MedianIntervalS = 60 };
        Assert.NotNull(ChargeAndMaintenanceTest.From(nearly).E24.Value);
    }

    [Fact]
    public void A_hole_in_the_record_is_pointed_out()
    {
        var envelope = ProcedureCases.Steps((10 * Hour, 1));
        envelope.AddInterval(new ChargeAudit.Measuring.Integration.PowerInterval(10.5 * Hour, 24 * Hour, 1, 1));
        var test = ChargeAndMaintenanceTest.From(new ChargeAndMaintenanceLog
        {
            Envelope = envelope,
            LogEndS = 24 * Hour,
            MedianIntervalS = 10,
        });
        var gaps = test.Checks.Single(c => c.Id == "no-gaps");
        Assert.Equal(ConditionState.NotMet, gaps.State);
        Assert.Contains("1800 s", gaps.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void The_meters_uncertainty_is_carried_where_it_is_known()
    {
        var log = new ChargeAndMaintenanceLog
        {
            Envelope = ProcedureCases.Steps((24 * Hour, 1)),
            LogEndS = 24 * Hour,
            MedianIntervalS = 10,
            EnergyBetween = (from, to) =>
                Measured.From((to - from) / 3600, "Wh", [new UncertaintyComponent(new InfluenceSource("gain"), 0.01 * (to - from) / 3600)]),
        };
        var test = ChargeAndMaintenanceTest.From(log);
        Assert.Equal(0.24, test.E24.Value!.StandardUncertainty!.Value, 1e-9);
        Assert.Equal(0.01, test.MaintenancePower.Value!.StandardUncertainty!.Value, 1e-9);
    }

    [Fact]
    public void No_battery_power_is_the_last_ten_minutes_after_thirty()
    {
        var envelope = ProcedureCases.Steps((1800, 1), (600, 0.25));
        Assert.Equal(0.25, NoBatteryTest.From(envelope, 0, 2400).Power.Value!.Value, 1e-9);
        var early = NoBatteryTest.From(envelope, 60, 2400);
        Assert.Equal("the log holds 39 min with no device, and 40 min are needed", early.Power.WhyNot);
        Assert.Equal(ConditionState.NotMet, early.Checks[0].State);

        // A hole of 2 min in the 10 that count: the mean is over what was logged, and the hole is pointed out.
        var holed = ProcedureCases.Steps((1800, 1), (240, 0.25));
        holed.AddInterval(new ChargeAudit.Measuring.Integration.PowerInterval(2160, 2400, 0.25, 0.25));
        var test = NoBatteryTest.From(holed, 0, 2400);
        Assert.Equal(0.25, test.Power.Value!.Value, 1e-9);
        Assert.Contains(test.Checks, c => c is { Id: "no-battery-record", State: ConditionState.NotMet }
            && c.Text.Contains("120 s", StringComparison.Ordinal));
    }
}
