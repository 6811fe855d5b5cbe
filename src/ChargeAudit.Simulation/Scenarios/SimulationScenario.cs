using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Studies;

namespace ChargeAudit.Simulation.Scenarios;

/// <summary>Everything that a simulated study is made from, as one TOML file gives it (docs/simulate.md). Immutable.</summary>
public sealed record SimulationScenario
{
    /// <summary>Title for people.</summary>
    public required string Title { get; init; }

    /// <summary>Seed that the scenario is shipped with.</summary>
    public ulong Seed { get; init; } = 1;

    /// <summary>The device.</summary>
    public required DeviceModel Device { get; init; }

    /// <summary>Methods; the first is the one that others are divided by.</summary>
    public required IReadOnlyList<MethodModel> Methods { get; init; }

    /// <summary>Meters.</summary>
    public required IReadOnlyList<MeterModel> Meters { get; init; }

    /// <summary>Charges, in order.</summary>
    public required IReadOnlyList<RunPlan> Runs { get; init; }

    /// <summary>Chargers that wait with no device.</summary>
    public IReadOnlyList<RunPlan> Waiting { get; init; } = [];

    /// <summary>A family of devices in place of the one; null: one device.</summary>
    public FamilyModel? Family { get; init; }

    /// <summary>How the charger is used, copied into the study.</summary>
    public Use? Use { get; init; }

    /// <summary>The price of energy, copied into the study.</summary>
    public Tariff? Tariff { get; init; }

    /// <summary>Reads a scenario.</summary>
    /// <param name="toml">Its text.</param>
    /// <param name="name">What messages call it.</param>
    /// <returns>The scenario.</returns>
    /// <exception cref="InputException">It cannot be used; the message says where and why.</exception>
    public static SimulationScenario Parse(string toml, string name = "scenario.toml") => ScenarioReader.Read(toml, name);

    /// <summary>Reads a scenario from a file.</summary>
    /// <param name="path">Path of the file.</param>
    /// <returns>The scenario.</returns>
    /// <exception cref="InputException">It is missing or cannot be used.</exception>
    public static SimulationScenario Load(string path)
    {
        string text;
        try
        {
            text = File.ReadAllText(path);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw new InputException(InputProblem.Missing,
                $"{path}: the scenario file is missing or cannot be read; give the path of a TOML file as docs/simulate.md describes it.",
                e);
        }

        return Parse(text, path);
    }
}
