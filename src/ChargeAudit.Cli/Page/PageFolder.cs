namespace ChargeAudit.Cli.Page;

/// <summary>
/// The temporary folder of a page. It is made for its owner alone and goes with the page; what a page that was killed left behind is
/// removed when the next one starts. A file that is held open tells which folders are in use.
/// </summary>
internal sealed class PageFolder : IDisposable
{
    private const string Prefix = "chargeaudit-page-";
    private const string Mark = "in-use";

    // A folder without the mark may be one that is just being made.
    private static readonly TimeSpan Unmarked = TimeSpan.FromHours(1);

    private readonly FileStream _mark;

    private PageFolder(string path)
    {
        Path = path;
        _mark = new FileStream(System.IO.Path.Combine(path, Mark), FileMode.CreateNew, FileAccess.Write, FileShare.None);
    }

    /// <summary>Where it is.</summary>
    public string Path { get; }

    /// <summary>Removes what earlier pages left, and makes a new one.</summary>
    /// <param name="clock">The clock.</param>
    public static PageFolder Make(TimeProvider clock)
    {
        Sweep(clock);

        // On Unix the folder is made for its owner alone (0700); on Windows it lies in the user's own temporary folder.
        return new PageFolder(Directory.CreateTempSubdirectory(Prefix).FullName);
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        _mark.Dispose();
        Directory.Delete(Path, recursive: true);
    }

    private static void Sweep(TimeProvider clock)
    {
        foreach (string folder in Directory.EnumerateDirectories(System.IO.Path.GetTempPath(), Prefix + "*"))
        {
            try
            {
                string mark = System.IO.Path.Combine(folder, Mark);
                bool left = File.Exists(mark) ? IsFree(mark) : clock.GetUtcNow() - Directory.GetLastWriteTimeUtc(folder) > Unmarked;
                if (left && new DirectoryInfo(folder).LinkTarget is null)
                {
                    Directory.Delete(folder, recursive: true);
                }
            }
            catch (Exception e) when (e is IOException or UnauthorizedAccessException)
            {
                // In use, or somebody else's.
            }
        }
    }

    // Held by a page that runs: this throws.
    private static bool IsFree(string mark)
    {
        using var free = new FileStream(mark, FileMode.Open, FileAccess.ReadWrite, FileShare.None);
        return true;
    }
}
