using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Studies;

namespace ChargeAudit.Reports.Bundles;

/// <summary>The files that a study rests on, with their places in a bundle.</summary>
internal static class BundleFiles
{
    /// <summary>All files, the study first, each once: the path to open and the place below the bundle's study folder. Files beside the
    /// study's folder keep their places to one another, so the study finds them again.</summary>
    /// <exception cref="InputException">A path is absolute, so that it would point outside the bundle.</exception>
    public static IReadOnlyList<(string Path, string Name)> Of(Study study, string studyFile)
    {
        var named = study.Runs.SelectMany(r => r.Logs.Values).Concat(study.Standby.SelectMany(s => s.Logs.Values)).SelectMany(l => l.Files)
            .Concat(study.Meters.Values.SelectMany(m => m.Calibrations).SelectMany(c => c.ZeroFiles))
            .Concat(new[] { study.Tariff?.Hourly?.File, study.Carbon?.Hourly?.File }.OfType<string>()).ToList();
        if (named.FirstOrDefault(Path.IsPathRooted) is { } absolute)
        {
            throw new InputException(InputProblem.Unusable,
                $"{studyFile} names {absolute} by an absolute path, which no other machine has; name it from the study's folder");
        }

        List<string> paths = [Path.GetFullPath(studyFile), .. named.Select(f => Path.GetFullPath(Path.Combine(study.Folder, f)))];
        string root = Path.GetDirectoryName(paths[0])!;
        while (paths.Exists(p => !IsBelow(p, root)) && Path.GetDirectoryName(root) is { } above)
        {
            root = above;
        }

        return [.. paths.Distinct(StringComparer.Ordinal).Select(p => (p, Path.GetRelativePath(root, p).Replace('\\', '/')))];
    }

    private static bool IsBelow(string path, string folder) =>
        path.StartsWith(folder.EndsWith(Path.DirectorySeparatorChar) ? folder : folder + Path.DirectorySeparatorChar,
            StringComparison.Ordinal);
}
