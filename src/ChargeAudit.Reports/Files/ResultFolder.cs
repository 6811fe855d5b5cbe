using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;

namespace ChargeAudit.Reports.Files;

/// <summary>
/// Writes files that belong together into a folder. A whole new folder is made beside the old one and takes its place at one stroke:
/// whoever looks, and whenever the program is killed, finds all of the old files or all of the new ones. A manifest in it tells what is
/// ours: that is replaced or removed, and whatever else lies in the folder is carried over.
/// </summary>
/// <remarks>
/// Where folders cannot change places (another system, a mounted folder, the folder that the user is in), files are replaced one by
/// one, and the manifest says so until the last one stands. Two programs may write to one folder at once: the later one's files stand there
/// at the end.
/// </remarks>
public static class ResultFolder
{
    private const int Attempts = 3;

    /// <summary>Writes the files.</summary>
    /// <param name="files">Names relative to the folder, with forward slashes, and what each holds.</param>
    /// <param name="folder">The folder; made where it is not there.</param>
    /// <param name="overwrite">Whether files that are not ours may be replaced.</param>
    /// <param name="remedy">What names the folder.</param>
    /// <param name="cancellation">Stops it as long as the new files have not taken their place; nothing is left behind then.</param>
    /// <returns>The paths.</returns>
    /// <exception cref="InputException">The folder cannot be written, or holds files of those names that are not ours (<see
    /// cref="InputProblem.CannotWrite"/>).</exception>
    /// <exception cref="OperationCanceledException">It was stopped.</exception>
    public static IReadOnlyList<string> Write(
        IReadOnlyList<(string Name, byte[] Bytes)> files, string folder, bool overwrite = false, Remedy remedy = Remedy.Output,
            CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(files);
        return Write([.. files.Select(f => ResultFile.Of(f.Name, f.Bytes))], folder, overwrite, remedy, cancellation);
    }

    /// <summary>The same with files that are made while they are written.</summary>
    internal static IReadOnlyList<string> Write(
        IReadOnlyList<ResultFile> files, string folder, bool overwrite = false, Remedy remedy = Remedy.Output,
            CancellationToken cancellation = default)
    {
        try
        {
            string target = TargetOf(folder);
            StrayFolders.Sweep(target);
            RefuseForeign(files, folder, target, overwrite, remedy);
            using (var staged = StagedFolder.Make(target, Attempts))
            {
                string[] hashes = SideBySide.Of(files.Count, i => staged.Add(files[i]), cancellation);
                var written = new Dictionary<string, string>(files.Zip(hashes, (f, hash) => KeyValuePair.Create(f.Name, hash)),
                    StringComparer.Ordinal);
                var manifest = new FolderManifest(written, Complete: true);
                staged.Finish(manifest);
                cancellation.ThrowIfCancellationRequested();
                Commit(staged, target, manifest);
            }

            return [.. files.Select(f => Path.Combine(folder, Local(f.Name)))];
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or ArgumentException or NotSupportedException)
        {
            throw new InputException(
                InputProblem.CannotWrite,
                $"{folder}: the files cannot be written there ({e.Message.TrimEnd('.')}); name another folder, or make room and give write "
                    + "permission there",
                e)
            {
                Remedy = remedy,
            };
        }
    }

    /// <summary>A name as this system writes paths.</summary>
    internal static string Local(string name) => name.Replace('/', Path.DirectorySeparatorChar);

    // The folder that the user names may be a link: what it leads to is written, not the link.
    private static string TargetOf(string folder)
    {
        string whole = Path.TrimEndingDirectorySeparator(Path.GetFullPath(folder));
        return Directory.Exists(whole) && new DirectoryInfo(whole).ResolveLinkTarget(returnFinalTarget: true) is { } leads
            ? Path.TrimEndingDirectorySeparator(leads.FullName)
            : whole;
    }

    private static void RefuseForeign(IReadOnlyList<ResultFile> files, string folder, string target, bool overwrite,
        Remedy remedy)
    {
        if (File.Exists(target))
        {
            throw new InputException(InputProblem.CannotWrite,
                $"{folder} is a file, and a folder was expected; name another")
            { Remedy = remedy };
        }

        if (overwrite || !Directory.Exists(target))
        {
            return;
        }

        string[] foreign = [];
        for (int attempt = 0; attempt == 0 || (foreign.Length > 0 && attempt < Attempts); attempt++)
        {
            // Another program may have put its folder there between the two looks.
            FolderManifest ours = FolderManifest.Find(target) ?? FolderManifest.Empty;
            foreign = [.. files.Select(f => f.Name).Where(n => !ours.Holds(n) && Path.Exists(Path.Combine(target, Local(n))))];
        }

        if (foreign.Length > 0)
        {
            string which = string.Join(", ", foreign.Take(3))
                + (foreign.Length > 3 ? InvariantText.Of($" and {foreign.Length - 3} more") : "");
            throw new InputException(
                InputProblem.CannotWrite,
                $"{folder} holds {which} already, and nothing tells that this program wrote {(foreign.Length > 1 ? "them" : "it")} "
                    + $"({FolderManifest.FileName} would); name another folder, or have {(foreign.Length > 1 ? "them" : "it")} replaced")
            {
                Remedy = remedy == Remedy.Output ? Remedy.Overwrite : remedy,
            };
        }
    }

    private static void Commit(StagedFolder staged, string target, FolderManifest manifest)
    {
        if (staged.IsBeside && !Directory.Exists(target))
        {
            try
            {
                Directory.Move(staged.Path, target);
                staged.Release();
                return;
            }
            catch (IOException) when (Directory.Exists(target))
            {
                // Another program was faster.
            }
        }

        if (staged.IsBeside && !IsStoodIn(target) && CarryOver(target, staged.Path, [.. manifest.Files.Keys]) is { } carried
            && FolderSwitch.TryExchange(staged.Path, target))
        {
            staged.Release();

            // What lies beside now is the old folder. Where another program put its own there in the meantime, files of that one may have
            // been carried over.
            FolderManifest old = FolderManifest.Find(staged.Path) ?? FolderManifest.Empty;
            foreach (string name in carried.Where(old.Holds))
            {
                File.Delete(Path.Combine(target, Local(name)));
            }

            StrayFolders.Clear(staged.Path, target);
            return;
        }

        InPlace(staged, target, manifest);
    }

    // A shell that stands in the folder would be left standing in the old one.
    private static bool IsStoodIn(string target) => Path.GetFullPath(".") is var here
        && (here == target || here.StartsWith(target + Path.DirectorySeparatorChar, StringComparison.Ordinal));

    // Files of others get a second name in the new folder before it takes the place of the old one. Null where that cannot be done.
    private static List<string>? CarryOver(string target, string staged, HashSet<string> written)
    {
        List<string> carried = [];
        FolderManifest ours = FolderManifest.Find(target) ?? FolderManifest.Empty;
        if (!OperatingSystem.IsWindows())
        {
            File.SetUnixFileMode(staged, File.GetUnixFileMode(target));
        }

        foreach (var (name, path) in StrayFolders.FilesIn(target))
        {
            if (ours.Holds(name) || written.Contains(name))
            {
                continue;
            }

            string place = Path.Combine(staged, Local(name));
            Directory.CreateDirectory(Path.GetDirectoryName(place)!);
            if (FolderSwitch.TryLink(path, place))
            {
                carried.Add(name);
            }
            else if (Path.Exists(path))
            {
                return null;
            }
        }

        return carried;
    }

    private static void InPlace(StagedFolder staged, string target, FolderManifest after)
    {
        Directory.CreateDirectory(target);

        // Before the first file changes: a folder that leads elsewhere is not written through.
        foreach (string within in after.Files.Keys.Select(n => Path.GetDirectoryName(Path.Combine(target, Local(n)))!).Distinct())
        {
            if (within != target && new DirectoryInfo(within).LinkTarget is not null)
            {
                throw new IOException($"{within} is a link");
            }
        }

        FolderManifest before = FolderManifest.Find(target) ?? FolderManifest.Empty;
        var both = new Dictionary<string, string>(before.Files);
        foreach (var (name, sha256) in after.Files)
        {
            both[name] = sha256;
        }

        string manifest = Path.Combine(target, FolderManifest.FileName);
        AtomicFile.Write(manifest, new FolderManifest(both, Complete: false).ToBytes());
        foreach (string name in before.Files.Keys.Where(n => !after.Files.ContainsKey(n)))
        {
            File.Delete(Path.Combine(target, Local(name)));
        }

        foreach (string name in after.Files.Keys)
        {
            string place = Path.Combine(target, Local(name));
            Directory.CreateDirectory(Path.GetDirectoryName(place)!);
            File.Move(Path.Combine(staged.Path, Local(name)), place, overwrite: true);
        }

        AtomicFile.Write(manifest, after.ToBytes());
    }
}
