using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Pooling;
using ChargeAudit.Pooling.Audits;
using ChargeAudit.Pooling.Planning;
using ChargeAudit.Pooling.Results;
using ChargeAudit.Studies;

namespace ChargeAudit.Tests.Pooling;

/// <summary>The list of audits, effects of what it says of them, and the plan of a pool.</summary>
public sealed class PoolListTests
{
    [Fact]
    public void A_list_names_audits_chargers_instruments_and_factors()
    {
        var list = PoolList.Read("list.toml", """
            title = "Spring"
            point = "wall"
            [use]
            charges-per-week = 5
            [[audits]]
            results = "a/results.json"
            device = "A"
            chargers = { pad = "Flat" }
            instruments = { plug = "meter 7" }
            factors = { magnets = true, power = 15, case = "thick" }
            """, "folder");
        var audit = Assert.Single(list.Audits);
        Assert.Equal(Path.Combine("folder", "a/results.json"), audit.Results);
        Assert.Equal(("Flat", "meter 7", "A", 5),
            (audit.Chargers["pad"], audit.Instruments["plug"], audit.Device, list.Use!.ChargesPerWeek));
        Assert.Equal(["yes", 15.0, "thick"], audit.Factors.Values);
    }

    [Theory]
    [InlineData("title = \"x\"", "the list names no audit")]
    [InlineData("[[audits]]\nresult = \"a\"", "results")]
    [InlineData("point = \"plug\"\n[[audits]]\nresults = \"a\"", "line 1: point is \"plug\"")]
    [InlineData("[[audits]]\nresults = \"a\"\nfactor = { x = 1 }", "did you mean \"factors\"")]
    public void What_no_list_can_say_is_refused_with_its_line(string text, string part) =>
        Assert.Contains(part, Assert.Throws<InputException>(() => PoolList.Read("list.toml", text, ".")).Message, StringComparison.Ordinal);

    // Overheads are exactly 1.3·1.02^x: one more of x multiplies the ratio by 1.02.
    [Fact]
    public void A_factor_s_effect_is_found_from_ten_devices_on_and_not_before()
    {
        List<PooledAudit> Audits(int count) => [.. Enumerable.Range(0, count).Select(i => PoolCases.Audit(
            InvariantText.Of($"d{i}"), [9.98, 10, 10.02],
                PoolCases.OnPad([.. new[] { 0.998, 1, 1.002 }.Select(s => 13 * Math.Pow(1.02, i % 5) * s)]), instrument: "one") with
        { Factors = new Dictionary<string, object> { ["power"] = (double)(i % 5) } })];
        var effect = Assert.Single(Pooler.Run(Audits(10), []).Factors);
        Assert.Equal(1.02, effect.Ratio.Value, 1e-6);
        Assert.Equal(8, effect.DegreesOfFreedom);
        var few = Pooler.Run(Audits(9), []);
        Assert.Empty(few.Factors);
        Assert.Contains("known for 9 devices", Assert.Single(few.NoRegression), StringComparison.Ordinal);
    }

    // By hand: 7 devices, t(6) = 2.4469, √((2² + 2·1²/3)/7) = 0.8165 %, half-width 1.998 %; with 6 devices t(5) = 2.5706 and 0.8819 % give
    // 2.267 %.
    [Fact]
    public void A_plan_of_devices_is_that_of_Student_s_t()
    {
        var choice = DevicesPlanner.Choices(new DevicesAim(false, 0.02, 0.02, 0.01, 10, 200))[0];
        Assert.Equal((3, 7), (choice.Runs, choice.Devices));
        Assert.Equal(0.01998, choice.HalfWidth, 1e-5);
        Assert.Equal(7 * (200 + (2 * 3 * 10)), choice.Cost);
        Assert.Empty(DevicesPlanner.Choices(new DevicesAim(true, 0.03, 0.02, 0.01, 0, 0)));
    }

    [Fact]
    public void What_is_pooled_has_a_name() => Assert.Equal(7, Enum.GetValues<PoolFigure>().Select(StableName.Of).Distinct().Count());
}
