using ChargeAudit.Comparing.Yearly;
using ChargeAudit.Measuring.Segmentation;
using ChargeAudit.Studies;
using CsCheck;

namespace ChargeAudit.Tests.Comparing.Yearly;

public class WeekPlanTests
{
    [Fact]
    public void Every_hour_of_the_week_is_in_exactly_one_mode() =>
        Gen.Select(Gen.Double[0.1, 20], Gen.Double[0, 24], Gen.Double[0, 1], Gen.Bool, Gen.Int[1, 3], Gen.Int[0, 23]).Sample(
            (charge, rest, fill, plugged, devices, start) =>
            {
                // As many charges as fill this part of the week, in steps that need up to ten weeks to come out even.
                double n = Math.Floor(168 / ((charge + rest) * devices) * fill * 10) / 10;
                var use = UseProfile.Of(new Use
                {
                    ChargesPerWeek = n,
                    HoursOnChargerPerCharge = charge + rest,
                    PluggedInAllDay = plugged,
                    Devices = devices,
                    ChargingStart = new TimeOnly(start, 0),
                });
                var hours = use.Hours(charge);
                Assert.Equal(168, hours.SumH, 1e-9);
                var plan = WeekPlan.Of(use, charge);
                for (int q = 0; q < WeekPlan.Quarters; q++)
                {
                    double sum = 0;
                    foreach (var mode in WeekHours.Modes)
                    {
                        Assert.InRange(plan.Share(mode)[q], 0, 1 + 1e-6);
                        sum += plan.Share(mode)[q];
                    }

                    Assert.Equal(1, sum, 1e-6);
                }

                foreach (var mode in WeekHours.Modes)
                {
                    double inPlan = 0;
                    foreach (double share in plan.Share(mode))
                    {
                        inPlan += share / 4;
                    }

                    Assert.Equal(hours[mode], inPlan, 1e-5);
                }
            },
            iter: 300,
            seed: "0000000000001");

    [Fact]
    public void A_charge_at_night_runs_over_midnight_and_over_the_end_of_the_week()
    {
        var plan = WeekPlan.Of(UseProfile.Of(new Use { ChargesPerWeek = 1, ChargingDays = [DayOfWeek.Sunday] }), 3);
        var charge = plan.Share(Mode.Charge).ToArray();
        Assert.All(charge[^8..], s => Assert.Equal(1, s, 12));
        Assert.All(charge[..4], s => Assert.Equal(1, s, 12));
        Assert.All(charge[4..^8], s => Assert.Equal(0, s));
    }

    [Fact]
    public void Half_a_charge_more_a_week_is_a_charge_every_other_week()
    {
        var plan =
            WeekPlan.Of(
                UseProfile.Of(new Use { ChargesPerWeek = 0.5, ChargingDays = [DayOfWeek.Wednesday], ChargingStart = new TimeOnly(6, 0) }),
                1);
        var charge = plan.Share(Mode.Charge).ToArray();
        Assert.Equal([0.5, 0.5, 0.5, 0.5], charge[(2 * 96 + 24)..(2 * 96 + 28)]);
        Assert.Equal(2, charge.Sum());
    }

    [Fact]
    public void The_second_device_follows_the_first()
    {
        var plan =
            WeekPlan.Of(
                UseProfile.Of(new Use
                {
                    ChargesPerWeek = 1,
                    Devices = 2,
                    ChargingDays = [DayOfWeek.Monday],
                    ChargingStart = new TimeOnly(8, 0),
                    HoursOnChargerPerCharge = 2
                }), 1);
        var charge = plan.Share(Mode.Charge).ToArray();
        Assert.All(charge[32..36], s => Assert.Equal(1, s));
        Assert.All(charge[36..40], s => Assert.Equal(0, s));
        Assert.All(charge[40..44], s => Assert.Equal(1, s));
    }
}
