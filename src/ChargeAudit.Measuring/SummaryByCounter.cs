using ChargeAudit.Measuring.Integration;
using ChargeAudit.Measuring.Summaries;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;

namespace ChargeAudit.Measuring;

/// <summary>A waiting charger's log that holds a counter beside its power has a summary by each. Where the one by its power stands for the
/// log, the other is looked for beside it.</summary>
internal static class SummaryByCounter
{
    /// <summary>The summary by a counter of the log that another summary is of; null where there is none.</summary>
    /// <param name="path">The other's file.</param>
    /// <param name="read">What it holds.</param>
    /// <param name="source">Where the power is to come from.</param>
    public static (string Path, ReadLog Read)? Beside(string path, ReadLog read, PowerSource source)
    {
        var files = read.From!.Files;
        var said = new Dictionary<string, string>(read.From.Said) { [LogSettings.PowerFrom] = StableName.Of(source) };
        string pattern = $"*-{SummaryFolder.LogKey([.. files.Select(f => f.Name)])}-*{SummaryFile.Ending}";
        foreach (string file in Directory.EnumerateFiles(Path.GetDirectoryName(Path.GetFullPath(path))!, pattern)
            .Order(StringComparer.Ordinal))
        {
            if (TryRead(file) is { From: { } from } other && from.Said.Count == said.Count && !from.Said.Except(said).Any()
                && from.Files.Select(f => f.Sha256).SequenceEqual(files.Select(f => f.Sha256)))
            {
                return (file, other);
            }
        }

        return null;
    }

    private static ReadLog? TryRead(string file)
    {
        try
        {
            return SummaryFile.Read(file);
        }
        catch (InputException)
        {
            // A damaged one, or one of a part, tells nothing of this log.
            return null;
        }
    }
}
