using ChargeAudit.Checking;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Metrology.Uncertainty;
using ChargeAudit.Studies;

namespace ChargeAudit.Tests.Checking;

/// <summary>A meter whose error may move between two audits.</summary>
public sealed class MeterStabilityTests
{
    // 1 % and 50 mW rectangular over 10 Wh in 2 h: standard uncertainties 0.1/√3 Wh and 0.1/√3 Wh. Between audits 0.3 % and 20 mW: the
    // parts of one audit are 0.03/√3/√2 and 0.04/√3/√2 Wh, and what lasts is the rest.
    [Fact]
    public void The_error_splits_into_a_lasting_part_and_one_of_this_audit()
    {
        var errors = MeterError.ForEnergy("bench", Accuracies("0.3 % + 20 mW"), Charge, PowerBasis.PowerColumn);
        Assert.Null(errors.UnknownBecause);
        var parts = errors.Components.ToDictionary(c => c.Source.Part, c => c);
        Assert.Equal(["power-gain", "power-gain-of-this-audit", "power-offset", "power-offset-of-this-audit"],
            parts.Keys.Order(StringComparer.Ordinal));
        Assert.Equal(36 * 3 / Math.Sqrt(6), parts["power-gain-of-this-audit"].SignedStandardUncertainty, 1e-9);
        Assert.Equal(0.04 * 3600 / Math.Sqrt(6), parts["power-offset-of-this-audit"].SignedStandardUncertainty, 1e-9);
        Assert.Equal((true, false), (parts["power-gain"].Source.Shared, parts["power-gain-of-this-audit"].Source.Shared));
        Assert.Equal(360 / Math.Sqrt(3), Math.Sqrt(Square(parts["power-gain"]) + Square(parts["power-gain-of-this-audit"])), 1e-9);
        Assert.Equal(360 / Math.Sqrt(3), Math.Sqrt(Square(parts["power-offset"]) + Square(parts["power-offset-of-this-audit"])), 1e-9);
        Assert.Equal(2, MeterError.ForEnergy("bench", Accuracies(null), Charge, PowerBasis.PowerColumn).Components.Count);
    }

    // The difference of the two audits' own parts is the stability again: 0.3 %/√3 of the ratio, whatever the accuracy; without it the gain
    // cancels. Where only one study states it, its lasting part is smaller than the other's by √(1 − 0.3²/2), which leaves a little more.
    [Theory]
    [InlineData("0.3 %", "0.3 %", 0.003)]
    [InlineData("0.3 %", null, 0.003)]
    [InlineData(null, "0.3 %", 0.003)]
    [InlineData(null, null, 0)]
    public void Between_two_audits_it_cancels_as_far_as_it_lasts(string? ofCandidate, string? ofBaseline, double halfWidth)
    {
        var result = Checker.Run(Design("new", ofCandidate), Design("base", ofBaseline), Rules);
        var test = MarginTest.Difference(result.Figures[0].Candidate!, result.Figures[0].Baseline!, 1);
        double ofMeter = Math.Sqrt(test.Components.Where(c => c.Source.Owner == SourceOwner.Meter).Sum(Square));
        Assert.Equal(10 * halfWidth / Math.Sqrt(3), ofMeter, 1e-4);
        Assert.Null(result.Figures[0].Note);
    }

    [Fact]
    public void It_is_read_from_the_study()
    {
        var meter = Study("accuracy = { power = \"0.5 % + 2 mW\", stability = { power = \"0.1 % + 1 mW\" } }").Meters["bench"];
        Assert.Equal(("0.5 % + 2 mW", "0.1 % + 1 mW"),
            (meter.Accuracy[LogQuantity.Power].Text, meter.Accuracy[LogQuantity.Power].Stability!.Text));
        Assert.Contains(
            "meters.bench.accuracy.stability.power",
                Assert.Throws<InputException>(() => Study("accuracy = { power = \"0.5 %\", stability = { power = \"much\" } }")).Message,
                StringComparison.Ordinal);
        Assert.Contains(
            "stands without meters.bench.accuracy.current",
            Assert.Throws<InputException>(() => Study("accuracy = { power = \"0.5 %\", stability = { current = \"0.1 %\" } }")).Message,
                StringComparison.Ordinal);
    }

    private static CheckRules Rules { get; } = CheckCases.EnergyOnly(0.02);

    private static EnergySensitivities Charge { get; } = new() { EnergyJ = 36_000, DurationS = 7200 };

    private static double Square(UncertaintyComponent c) => c.SignedStandardUncertainty * c.SignedStandardUncertainty;

    private static Dictionary<LogQuantity, MeterAccuracy> Accuracies(string? stability, string accuracy = "1 % + 50 mW")
    {
        Assert.True(MeterAccuracy.TryParse(accuracy, LogQuantity.Power, out var stated, out _));
        MeterAccuracy? moves = null;
        Assert.True(stability is null || MeterAccuracy.TryParse(stability, LogQuantity.Power, out moves, out _));
        return new() { [LogQuantity.Power] = stated with { Stability = moves } };
    }

    private static MeasuredDesign Design(string title, string? stability)
    {
        var errors = MeterError.ForEnergy("bench", Accuracies(stability, "1 %"), Charge, PowerBasis.PowerColumn);
        var design = CheckCases.Design(title, [10.00, 10.01, 9.99]);
        return design.With(m => m with
        {
            Points = m.Points.ToDictionary(p => p.Key, p => p.Value with
            {
                EnergyPerCharge =
                    Figure.Of(
                        p.Value.EnergyPerCharge.Value!.Plus(
                            errors.Components.Select(c => c with { SignedStandardUncertainty = c.SignedStandardUncertainty / 3600 }))),
            }),
        });
    }

    private static Study Study(string keys) => StudyReader.Read(
        "study.toml",
        $"[meters.bench]\n{keys}\n[methods.cable]\nkind = \"wired\"\n[[runs]]\nmethod = \"cable\"\nlogs = {{ usb = {{ file = \"a.csv\", "
            + "meter = \"bench\" } }\n",
        ".");
}
