using ChargeAudit.Metrology;
using ChargeAudit.Simulation.Scenarios;

namespace ChargeAudit.Simulation;

/// <summary>The invented study that ships with the program, in sample-logs/.</summary>
public static class SampleStudy
{
    private const string Resource = "ChargeAudit.Simulation.sample-scenario.toml";

    /// <summary>Its scenario, the text of sample-logs/scenario.toml.</summary>
    public static string ScenarioText => BuiltIn.Text(typeof(SampleStudy).Assembly, Resource);

    /// <summary>Its scenario.</summary>
    public static SimulationScenario Scenario => SimulationScenario.Parse(ScenarioText, "sample-logs/scenario.toml");
}
