using ChargeAudit.Metrology.Diagnostics;

namespace ChargeAudit.Reports.Files;

/// <summary>Writes a file that is either there as a whole or not at all. Files that belong together are written by
/// <see cref="ResultFolder"/>.</summary>
public static class AtomicFile
{
    private const string Suffix = ".part";
    private const int Attempts = 3;

    /// <summary>
    /// Writes beside the place, under a name that is new and that nobody can guess, and renames; makes the folder where it is not there. A
    /// link that stands at the place is replaced, never followed.
    /// </summary>
    /// <param name="path">Where the file is to go.</param>
    /// <param name="bytes">What it holds.</param>
    /// <param name="remedy">What names the place.</param>
    /// <returns>The path.</returns>
    /// <exception cref="InputException">It cannot be written (<see cref="InputProblem.CannotWrite"/>); nothing is left behind.</exception>
    public static string Write(string path, ReadOnlySpan<byte> bytes, Remedy remedy = Remedy.Output)
    {
        string? beside = null;
        try
        {
            string folder = Path.GetDirectoryName(Path.GetFullPath(path))!;
            Directory.CreateDirectory(folder);
            Sweep(folder, Path.GetFileName(path));
            for (int attempt = 1; ; attempt++)
            {
                beside = Path.Combine(folder, $".{Path.GetFileName(path)}.{Guid.NewGuid():N}{Suffix}");
                using (var file = new FileStream(beside, FileMode.CreateNew, FileAccess.Write, FileShare.None))
                {
                    file.Write(bytes);
                }

                try
                {
                    File.Move(beside, path, overwrite: true);
                    return path;
                }
                catch (FileNotFoundException) when (attempt < Attempts)
                {
                    // Another program that writes here took it for one that was left behind.
                }
            }
        }
        catch (Exception e) when (IsRefusal(e))
        {
            Remove(beside);
            throw new InputException(
                InputProblem.CannotWrite,
                    $"{path}: the file cannot be written ({e.Message.TrimEnd('.')}); name another place, or make room and give write "
                    + "permission there", e)
            {
                Remedy = remedy,
            };
        }
    }

    // What a program that was killed left of this file; one that somebody is writing cannot be opened.
    private static void Sweep(string folder, string name)
    {
        foreach (string stray in Directory.EnumerateFiles(folder, $".{name}.*{Suffix}"))
        {
            try
            {
                using (new FileStream(stray, FileMode.Open, FileAccess.ReadWrite, FileShare.None))
                {
                }

                File.Delete(stray);
            }
            catch (Exception e) when (IsRefusal(e))
            {
                // In use, or not ours to touch.
            }
        }
    }

    private static bool IsRefusal(Exception e) =>
        e is IOException or UnauthorizedAccessException or ArgumentException or NotSupportedException;

    private static void Remove(string? path)
    {
        try
        {
            if (path is not null)
            {
                File.Delete(path);
            }
        }
        catch (Exception e) when (IsRefusal(e))
        {
            // The write has failed already; that is what the user hears of.
        }
    }
}
