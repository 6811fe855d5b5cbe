using ChargeAudit.Simulation.Scenarios;

namespace ChargeAudit.Simulation;

/// <summary>The invented study that ships with the program, in sample-logs/.</summary>
public static class SampleStudy
{
    private const string Resource = "ChargeAudit.Simulation.sample-scenario.toml";

    /// <summary>Its scenario, the text of sample-logs/scenario.toml.</summary>
    public static string ScenarioText
    {
        get
        {
            using Stream stream = typeof(SampleStudy).Assembly.GetManifestResourceStream(Resource)
                ?? throw new InvalidOperationException("The program was built without its sample scenario.");
            using StreamReader reader = new(stream);
            return reader.ReadToEnd();
        }
    }

    /// <summary>Its scenario.</summary>
    public static SimulationScenario Scenario => SimulationScenario.Parse(ScenarioText, "sample-logs/scenario.toml");
}
