using System.Text;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;

namespace ChargeAudit.Checking;

/// <summary>What appending to a history gave.</summary>
/// <param name="Entries">All entries, the new one last.</param>
/// <param name="Repaired">What was repaired, as a sentence; null where nothing.</param>
public sealed record HistoryAppended(IReadOnlyList<HistoryEntry> Entries, string? Repaired);

/// <summary>
/// A history of checks: one JSON object a line. A writer holds the file alone while it reads, repairs and appends, and a line is written at
/// one go and flushed to the disk. A line that a crash cut short is set aside in a file beside it, and never stops later checks.
/// </summary>
public static class HistoryFile
{
    private static readonly TimeSpan Between = TimeSpan.FromMilliseconds(25);

    /// <summary>Appends a check.</summary>
    /// <param name="path">The file; created where it does not exist.</param>
    /// <param name="entry">The check.</param>
    /// <param name="patience">How long another writer is waited for.</param>
    /// <param name="clock">The clock.</param>
    /// <param name="cancellation">Stops the waiting.</param>
    /// <exception cref="InputException">The file cannot be written, is held by another writer for too long, or is not a
    /// history.</exception>
    public static HistoryAppended Append(string path, HistoryEntry entry, TimeSpan patience, TimeProvider clock,
        CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(clock);
        using var file = Open(path, patience, clock, cancellation);
        try
        {
            string? repaired = Repair(file, path);
            var entries = Entries(file, path);
            file.Seek(0, SeekOrigin.End);
            file.Write(Encoding.UTF8.GetBytes(HistoryJson.Line(entry) + "\n"));
            file.Flush(flushToDisk: true);
            return new HistoryAppended([.. entries, entry], repaired);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw CannotWrite(path, e);
        }
    }

    // Opened for one alone: a second writer, in this process or another, is refused by the system and tries again.
    private static FileStream Open(string path, TimeSpan patience, TimeProvider clock, CancellationToken cancellation)
    {
        long start = clock.GetTimestamp();
        while (true)
        {
            cancellation.ThrowIfCancellationRequested();
            try
            {
                if (Path.GetDirectoryName(path) is { Length: > 0 } folder)
                {
                    Directory.CreateDirectory(folder);
                }

                // No buffer: what is written goes to the system in one call.
                return new FileStream(path, FileMode.OpenOrCreate, FileAccess.ReadWrite, FileShare.None, bufferSize: 0);
            }
            catch (Exception e) when (e is IOException or UnauthorizedAccessException or ArgumentException or NotSupportedException)
            {
                bool held = e is IOException && e is not (DirectoryNotFoundException or FileNotFoundException or PathTooLongException)
                    && File.Exists(path);
                if (!held || clock.GetElapsedTime(start) > patience)
                {
                    throw CannotWrite(path, e);
                }
            }

            cancellation.WaitHandle.WaitOne(Between);
        }
    }

    private static string? Repair(FileStream file, string path)
    {
        byte[] all = ReadAll(file);
        if (all.Length == 0 || all[^1] == (byte)'\n')
        {
            return null;
        }

        int lineStart = Array.LastIndexOf(all, (byte)'\n') + 1;
        byte[] torn = all[lineStart..];
        if (HistoryJson.TryRead(torn, out _))
        {
            file.Seek(0, SeekOrigin.End);
            file.WriteByte((byte)'\n');
            return null;
        }

        // Without this the whole of a file that is not a history would be taken for one torn line.
        if (lineStart == 0 && !Encoding.UTF8.GetString(torn)
            .StartsWith(HistoryJson.Start[..Math.Min(HistoryJson.Start.Length, torn.Length)], StringComparison.Ordinal))
        {
            throw NoHistory(path, 1);
        }

        string aside = path + ".torn";
        using (var kept = new FileStream(aside, FileMode.Append, FileAccess.Write, FileShare.Read))
        {
            kept.Write([.. torn, (byte)'\n']);
            kept.Flush(flushToDisk: true);
        }

        file.SetLength(lineStart);
        return $"{path}: the last line was cut short, as by a crash; it was moved to {aside}";
    }

    private static List<HistoryEntry> Entries(FileStream file, string path)
    {
        var entries = new List<HistoryEntry>();
        byte[] all = ReadAll(file);
        int from = 0;
        for (int line = 1; from < all.Length; line++)
        {
            int end = Array.IndexOf(all, (byte)'\n', from);
            end = end < 0 ? all.Length : end;
            var text = all.AsMemory(from, end - from);
            from = end + 1;
            if (text.Span.Trim(" \t\r"u8).IsEmpty)
            {
                continue;
            }

            entries.Add(HistoryJson.TryRead(text, out var entry) ? entry! : throw NoHistory(path, line));
        }

        return entries;
    }

    private static byte[] ReadAll(FileStream file)
    {
        file.Seek(0, SeekOrigin.Begin);
        byte[] all = new byte[file.Length];
        file.ReadExactly(all);
        return all;
    }

    private static InputException NoHistory(string path, int line) => new(
        InputProblem.Unusable,
        InvariantText.Of($"{path}, line {line}: this is no entry of a history that check wrote; name another file, or correct the line"))
    {
        Remedy = Remedy.History,
    };

    private static InputException CannotWrite(string path, Exception e) => new(
        InputProblem.CannotWrite,
        $"{path}: the history cannot be written ({e.Message.ReplaceLineEndings(" ").TrimEnd('.')}); make sure that it is a file you may "
            + "write and that no other program holds it",
        e);
}
