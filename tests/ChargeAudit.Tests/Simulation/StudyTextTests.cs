using ChargeAudit.Simulation;
using ChargeAudit.Simulation.Output;
using ChargeAudit.Simulation.Scenarios;
using ChargeAudit.Studies;

namespace ChargeAudit.Tests.Simulation;

/// <summary>The study file of a simulated study is read back, whatever its methods are called.</summary>
public sealed class StudyTextTests
{
    [Theory]
    [InlineData("pad 7.5 W")]
    [InlineData("the \"fast\" pad")]
    [InlineData("pad\\2")]
    [InlineData("coussin à 15 W")]
    public void A_method_whose_name_is_not_a_bare_key_keeps_its_name(string name)
    {
        var small = SmallScenario.Short();
        MethodModel Renamed(MethodModel m) => m.Pad is null ? m : m with { Name = name };
        var study = Simulator.Run(
            small with
            {
                Methods = [.. small.Methods.Select(Renamed)],
                Runs = [.. small.Runs.Select(r => r with { Method = Renamed(r.Method) })],
            },
            seed: 3);
        var read = StudyReader.Read("study.toml", StudyText.Write(study), ".");
        Assert.Equal(["cable", name], read.Methods.Select(m => m.Name));
        Assert.Equal(["cable", name], read.Runs.Select(r => r.Method));
    }
}
