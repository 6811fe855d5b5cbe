using ChargeAudit.Simulation.Metering;

namespace ChargeAudit.Simulation.Output;

/// <summary>Makes a simulated study into files.</summary>
public static class StudyWriter
{
    /// <summary>The files of a study by name: its logs, <c>study.toml</c> and <c>truth.json</c>.</summary>
    /// <param name="study">The study.</param>
    /// <returns>Names and texts, in the order of writing.</returns>
    public static IReadOnlyList<(string Name, string Text)> Files(SimulatedStudy study)
    {
        ArgumentNullException.ThrowIfNull(study);
        IEnumerable<SimulatedLog> logs = study.Runs.Concat(study.Waiting).SelectMany(r => r.Logs);
        return [.. logs.Select(l => (l.FileName, l.Text)), ("study.toml", StudyText.Write(study)), ("truth.json", TruthText.Write(study))];
    }
}
