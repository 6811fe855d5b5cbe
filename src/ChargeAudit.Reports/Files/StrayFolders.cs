using System.Text.RegularExpressions;

namespace ChargeAudit.Reports.Files;

/// <summary>Folders that a program which was killed left beside or in a folder of results: found at the next run, emptied of what is not
/// ours, and removed.</summary>
internal static partial class StrayFolders
{
    private const string Mark = ".chargeaudit-";

    /// <summary>What is added to a folder's name for a new one beside it: nobody can guess it.</summary>
    public static string NewMark() => Mark + Guid.NewGuid().ToString("N");

    /// <summary>Removes what was left of earlier runs.</summary>
    public static void Sweep(string target)
    {
        string parent = Path.GetDirectoryName(target) ?? target;
        foreach (string stray in Marked(parent, Path.GetFileName(target)).Concat(Marked(target, "")))
        {
            string manifest = Path.Combine(stray, FolderManifest.FileName);
            try
            {
                // Held by a program that is at work: this throws. Where there is none yet, its maker finds it taken and makes another.
                bool isThere = File.Exists(manifest);
                using var held = new FileStream(manifest, FileMode.OpenOrCreate, FileAccess.ReadWrite, FileShare.None);
                if (held.Length == 0 && (isThere || FilesIn(stray).Count() == 1))
                {
                    // Held while it goes: on Unix a manifest is there a moment before its maker holds it.
                    if (OperatingSystem.IsWindows())
                    {
                        held.Dispose();
                    }

                    Delete(stray);
                }
                else
                {
                    held.Dispose();
                    Clear(stray, target);
                }
            }
            catch (Exception e) when (e is IOException or UnauthorizedAccessException)
            {
                // In use, or not ours to touch.
            }
        }
    }

    /// <summary>Removes an old folder. Files in it that are not ours, and that the new one does not have, move to the new one.</summary>
    public static void Clear(string old, string target)
    {
        FolderManifest ours = FolderManifest.Find(old) ?? FolderManifest.Empty;
        foreach (var (name, path) in FilesIn(old))
        {
            string place = Path.Combine(target, ResultFolder.Local(name));
            if (ours.Holds(name) || Path.Exists(place))
            {
                continue;
            }

            try
            {
                Directory.CreateDirectory(Path.GetDirectoryName(place)!);
                File.Move(path, place, overwrite: false);
            }
            catch (IOException) when (!File.Exists(path))
            {
                // Another program that writes here has moved it.
            }
        }

        Delete(old);
    }

    /// <summary>Removes a folder, its manifest last: a program that is killed here leaves nothing that is ours without it. It is no trouble
    /// if somebody else removes it.</summary>
    public static void Delete(string folder)
    {
        try
        {
            foreach (var (name, path) in FilesIn(folder))
            {
                if (name != FolderManifest.FileName)
                {
                    File.Delete(path);
                }
            }

            Directory.Delete(folder, recursive: true);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            // The next run tries again.
        }
    }

    /// <summary>All files of a folder with their names in it; links count as files and are not followed. A folder that somebody else
    /// removes at the same time has none.</summary>
    public static IEnumerable<(string Name, string Path)> FilesIn(string folder)
    {
        var left = new Stack<string>([folder]);
        while (left.TryPop(out string? at))
        {
            foreach (FileSystemInfo entry in EntriesOf(at))
            {
                if (entry is DirectoryInfo && entry.LinkTarget is null)
                {
                    left.Push(entry.FullName);
                }
                else
                {
                    yield return (Path.GetRelativePath(folder, entry.FullName).Replace(Path.DirectorySeparatorChar, '/'), entry.FullName);
                }
            }
        }
    }

    private static FileSystemInfo[] EntriesOf(string folder)
    {
        var options = new EnumerationOptions { RecurseSubdirectories = false, AttributesToSkip = 0, IgnoreInaccessible = false };
        try
        {
            return new DirectoryInfo(folder).GetFileSystemInfos("*", options);
        }
        catch (DirectoryNotFoundException)
        {
            return [];
        }
    }

    private static List<string> Marked(string parent, string name) => !Directory.Exists(parent) ? []
        : [.. Directory.EnumerateDirectories(parent, name + Mark + "*")
            .Where(d => Made().IsMatch(d) && new DirectoryInfo(d).LinkTarget is null)];

    [GeneratedRegex(@"\.chargeaudit-[0-9a-f]{32}$")]
    private static partial Regex Made();
}
