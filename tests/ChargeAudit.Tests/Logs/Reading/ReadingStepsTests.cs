using ChargeAudit.Logs.Layout;
using ChargeAudit.Logs.Reading;
using ChargeAudit.Metrology;

namespace ChargeAudit.Tests.Logs.Reading;

public class ReadingStepsTests
{
    // Six decimals of a meter that counts by 0.1 W: the waiting charger shows one value, the charge shows the steps.
    [Fact]
    public void All_logs_of_one_meter_count_together()
    {
        var waiting = Layout(i => 0.2);
        var charge = Layout(i => Math.Floor(10 * (8 - (0.13 * i % 7))) / 10);
        Assert.True(ReadingSteps.NeedsOthers(waiting));
        Assert.Equal(1e-6, waiting.Resolution[LogQuantity.Power], 12);
        Assert.Equal(0.1, ReadingSteps.WithOthers(waiting, [waiting, charge]).Resolution[LogQuantity.Power], 9);
    }

    // 0.24 and 2.13 W do not lie on the other log's steps of 0.1 W: this meter counts more finely when little flows.
    [Fact]
    public void Values_off_the_steps_of_the_others_keep_their_own()
    {
        var waiting = Layout(i => i % 7 == 0 ? 2.137 : 0.24);
        var charge = Layout(i => Math.Floor(10 * (8 - (0.13 * i % 7))) / 10);
        Assert.Equal(1e-6, ReadingSteps.WithOthers(waiting, [charge]).Resolution[LogQuantity.Power], 12);
    }

    [Fact]
    public void A_log_that_shows_its_steps_needs_no_others() =>
        Assert.False(ReadingSteps.NeedsOthers(Layout(i => Math.Floor(10 * (8 - (0.13 * i % 7))) / 10)));

    private static LogLayout Layout(Func<int, double> power) =>
        LogText.Of("time (s),power (W)\n"
            + string.Concat(Enumerable.Range(0, 300).Select(i => InvariantText.Of($"{i},{power(i):F6}\n")))).Layout;
}
