using ChargeAudit.Metrology.Diagnostics;

namespace ChargeAudit.Reports.Files;

/// <summary>Writes files that are either there as a whole or not at all.</summary>
public static class AtomicFile
{
    private const string Suffix = ".part";

    /// <summary>Writes beside the place and renames; makes the folder where it is not there.</summary>
    /// <param name="path">Where the file is to stand.</param>
    /// <param name="bytes">What it holds.</param>
    /// <param name="remedy">What names the place.</param>
    /// <returns>The path.</returns>
    /// <exception cref="InputException">It cannot be written (<see cref="InputProblem.CannotWrite"/>); nothing is left behind.</exception>
    public static string Write(string path, ReadOnlySpan<byte> bytes, Remedy remedy = Remedy.Output)
    {
        Beside(path, bytes, remedy);
        return Rename(path, remedy);
    }

    /// <summary>Writes several files that belong together: all of them beside their places first, then all are renamed.</summary>
    /// <param name="files">Where each is to stand, and what it holds.</param>
    /// <param name="remedy">What names the place.</param>
    /// <param name="cancellation">Stops the writing as long as nothing is renamed; nothing is left behind then.</param>
    /// <returns>The paths.</returns>
    /// <exception cref="InputException">A file cannot be written (<see cref="InputProblem.CannotWrite"/>).</exception>
    /// <exception cref="OperationCanceledException">It was stopped.</exception>
    public static IReadOnlyList<string> WriteAll(IReadOnlyList<(string Path, byte[] Bytes)> files, Remedy remedy = Remedy.Output, CancellationToken cancellation = default)
    {
        int begun = 0;
        try
        {
            foreach (var (path, bytes) in files)
            {
                cancellation.ThrowIfCancellationRequested();
                begun++;
                Beside(path, bytes, remedy);
            }

            cancellation.ThrowIfCancellationRequested();
            return [.. files.Select(f => Rename(f.Path, remedy))];
        }
        catch
        {
            foreach (var (path, _) in files.Take(begun))
            {
                Remove(path + Suffix);
            }

            throw;
        }
    }

    private static void Beside(string path, ReadOnlySpan<byte> bytes, Remedy remedy)
    {
        try
        {
            if (Path.GetDirectoryName(path) is { Length: > 0 } folder)
            {
                Directory.CreateDirectory(folder);
            }

            File.WriteAllBytes(path + Suffix, bytes);
        }
        catch (Exception e) when (IsRefusal(e))
        {
            throw Cannot(path, remedy, e);
        }
    }

    private static string Rename(string path, Remedy remedy)
    {
        try
        {
            File.Move(path + Suffix, path, overwrite: true);
            return path;
        }
        catch (Exception e) when (IsRefusal(e))
        {
            throw Cannot(path, remedy, e);
        }
    }

    private static InputException Cannot(string path, Remedy remedy, Exception e)
    {
        Remove(path + Suffix);
        return new InputException(
            InputProblem.CannotWrite,
            $"{path}: the file cannot be written ({e.Message.TrimEnd('.')}); name another place, or make room and give write permission there.",
            e) { Remedy = remedy };
    }

    private static bool IsRefusal(Exception e) => e is IOException or UnauthorizedAccessException or ArgumentException or NotSupportedException;

    private static void Remove(string path)
    {
        try
        {
            File.Delete(path);
        }
        catch (Exception e) when (IsRefusal(e))
        {
            // The write has failed already; that is what the user hears of.
        }
    }
}
