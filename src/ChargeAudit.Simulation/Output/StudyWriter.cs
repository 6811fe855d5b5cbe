using System.Text;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Simulation.Metering;

namespace ChargeAudit.Simulation.Output;

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

    /// <summary>
    /// Writes them in UTF-8 without a mark, each beside its place and then renamed. Files of these names are replaced; nothing else in the folder is touched.
    /// </summary>
    /// <param name="study">The study.</param>
    /// <param name="folder">The folder; made where it is missing.</param>
    /// <returns>Names of the files that stood there before and were replaced.</returns>
    /// <exception cref="InputException">The folder or a file cannot be written.</exception>
    public static IReadOnlyList<string> Write(SimulatedStudy study, string folder)
    {
        try
        {
            Directory.CreateDirectory(folder);
            var files = Files(study);
            List<string> replaced = [.. files.Select(f => f.Name).Where(n => File.Exists(Path.Combine(folder, n)))];
            foreach ((string name, string text) in files)
            {
                string place = Path.Combine(folder, name);
                File.WriteAllText(place + ".part", text, new UTF8Encoding(false));
                File.Move(place + ".part", place, overwrite: true);
            }

            return replaced;
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or ArgumentException or NotSupportedException)
        {
            throw new InputException(InputProblem.CannotWrite, $"{folder}: the study cannot be written there ({e.Message.TrimEnd('.')}); name a folder that may be written", e)
            {
                Remedy = Remedy.Output,
            };
        }
    }
}
