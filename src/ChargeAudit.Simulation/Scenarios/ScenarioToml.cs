using Tomlyn.Model;
using Tomlyn.Serialization;

namespace ChargeAudit.Simulation.Scenarios;

/// <summary>How a scenario file becomes tables, made when the program is compiled: code compiled ahead of time has no reflection to find it out.</summary>
[TomlSerializable(typeof(TomlTable))]
internal sealed partial class ScenarioToml : TomlSerializerContext;
