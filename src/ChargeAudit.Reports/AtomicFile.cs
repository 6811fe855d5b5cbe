using ChargeAudit.Metrology.Diagnostics;

namespace ChargeAudit.Reports;

/// <summary>Writes files that are either there as a whole or not at all.</summary>
public static class AtomicFile
{
    /// <summary>Writes beside the place and renames; makes the folder where it is not there.</summary>
    /// <param name="path">Where the file is to stand.</param>
    /// <param name="bytes">What it holds.</param>
    /// <param name="option">The option that names the place, for the message.</param>
    /// <returns>The path.</returns>
    /// <exception cref="InputException">It cannot be written (<see cref="InputProblem.CannotWrite"/>); nothing is left behind.</exception>
    public static string Write(string path, ReadOnlySpan<byte> bytes, string option = "--out")
    {
        string beside = path + ".part";
        try
        {
            if (Path.GetDirectoryName(path) is { Length: > 0 } folder)
            {
                Directory.CreateDirectory(folder);
            }

            File.WriteAllBytes(beside, bytes);
            File.Move(beside, path, overwrite: true);
            return path;
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or ArgumentException or NotSupportedException)
        {
            Remove(beside);
            throw new InputException(
                InputProblem.CannotWrite,
                $"{path}: the file cannot be written ({e.Message.TrimEnd('.')}); name another place with {option}, or make room and give write permission there.",
                e);
        }
    }

    private static void Remove(string path)
    {
        try
        {
            File.Delete(path);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or ArgumentException or NotSupportedException)
        {
            // The write has failed already; that is what the user hears of.
        }
    }
}
