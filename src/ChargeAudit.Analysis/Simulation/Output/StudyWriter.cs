using System.Text;
using ChargeAudit.Analysis.Simulation.Metering;
using ChargeAudit.Metrology.Diagnostics;

namespace ChargeAudit.Analysis.Simulation.Output;

/// <summary>Writes a simulated study to a folder.</summary>
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

    /// <summary>Writes them in UTF-8 without a mark; files of these names are replaced.</summary>
    /// <param name="study">The study.</param>
    /// <param name="folder">The folder; made where it is missing.</param>
    /// <exception cref="InputException">The folder or a file cannot be written.</exception>
    public static void Write(SimulatedStudy study, string folder)
    {
        try
        {
            Directory.CreateDirectory(folder);
            foreach ((string name, string text) in Files(study))
            {
                File.WriteAllText(Path.Combine(folder, name), text, new UTF8Encoding(false));
            }
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw new InputException(InputProblem.CannotWrite, $"{folder}: the study cannot be written there ({e.Message}); choose a folder that may be written.", e);
        }
    }
}
