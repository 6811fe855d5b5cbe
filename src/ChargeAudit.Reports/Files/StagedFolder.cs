namespace ChargeAudit.Reports.Files;

/// <summary>
/// A new folder that is being filled beside the one whose place it is to take. Meanwhile its manifest is held open for this program alone,
/// which tells others that somebody is at work: a folder whose manifest nobody holds was left behind.
/// </summary>
internal sealed class StagedFolder : IDisposable
{
    private readonly FileStream _manifest;

    private StagedFolder(string path, bool isBeside, FileStream manifest)
    {
        Path = path;
        IsBeside = isBeside;
        _manifest = manifest;
    }

    /// <summary>Where it is.</summary>
    public string Path { get; }

    /// <summary>Whether it lies beside the folder; otherwise it lies inside, as nothing could be written beside.</summary>
    public bool IsBeside { get; }

    /// <summary>Makes one for a folder.</summary>
    public static StagedFolder Make(string target, int attempts)
    {
        string parent = System.IO.Path.GetDirectoryName(target) ?? target;
        try
        {
            Directory.CreateDirectory(parent);
            return At(target, isBeside: true, attempts);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException && Directory.Exists(target))
        {
            return At(target + System.IO.Path.DirectorySeparatorChar, isBeside: false, attempts);
        }
    }

    /// <summary>Adds a file, which must not be there.</summary>
    /// <returns>SHA-256 of its bytes, in lower-case hexadecimal.</returns>
    public string Add(ResultFile file)
    {
        string place = System.IO.Path.Combine(Path, ResultFolder.Local(file.Name));
        Directory.CreateDirectory(System.IO.Path.GetDirectoryName(place)!);
        return file.WriteNew(place);
    }

    /// <summary>Writes the manifest; the folder is whole then.</summary>
    public void Finish(FolderManifest manifest)
    {
        _manifest.Write(manifest.ToBytes());
        _manifest.Flush();
    }

    /// <summary>Lets go of it: it stands in its place now, and others may read it.</summary>
    public void Release() => _manifest.Dispose();

    /// <summary>Lets go of it, and removes what is left where it did not take its place.</summary>
    public void Dispose()
    {
        _manifest.Dispose();
        if (Directory.Exists(Path))
        {
            StrayFolders.Delete(Path);
        }
    }

    // A sweep may take an empty folder, or one whose manifest is not yet held, for one that was left behind.
    private static StagedFolder At(string before, bool isBeside, int attempts)
    {
        while (true)
        {
            string path = before + StrayFolders.NewMark();
            try
            {
                Directory.CreateDirectory(path);
                string place = System.IO.Path.Combine(path, FolderManifest.FileName);
                var manifest = new FileStream(place, FileMode.CreateNew, FileAccess.Write, FileShare.None);
                if (File.Exists(place))
                {
                    return new StagedFolder(path, isBeside, manifest);
                }

                // On Unix a sweep may come between making and holding it, and what is held then has no name any more.
                manifest.Dispose();
                throw new IOException($"{place} was removed");
            }
            catch (IOException) when (--attempts > 0)
            {
                // Made again.
            }
        }
    }
}
