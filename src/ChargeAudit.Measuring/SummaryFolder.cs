using System.Collections.Concurrent;
using System.Text;
using ChargeAudit.Logs.Layout;
using ChargeAudit.Logs.Reading;
using ChargeAudit.Logs.Sources;
using ChargeAudit.Measuring.Summaries;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;

namespace ChargeAudit.Measuring;

/// <summary>
/// A folder of summaries. A file's name holds what was asked of which log, and the log's own hash: so two logs never share one, and a
/// summary is found without the log. Where the log is there, its place, size and time decide whether the summary is of it; where the size
/// alone is the same, its hash does. Safe for callers side by side.
/// </summary>
public sealed partial class SummaryFolder
{
    private const int HexDigits = 12;

    // A meter's logs are asked for their layouts and soon after for themselves; more than these would fill the memory.
    private const int MostAhead = 32;

    private static readonly TimeSpan LeastAge = TimeSpan.FromSeconds(2);

    private readonly string _folder;
    private readonly string _programVersion;
    private readonly Action<string, byte[]> _write;
    private readonly bool _verify;
    private readonly ConcurrentDictionary<string, string[]> _byLog = new(StringComparer.Ordinal);
    private readonly ConcurrentDictionary<string, ReadLog> _ahead = new(StringComparer.Ordinal);
    private readonly ConcurrentBag<string> _used = [];
    private readonly ConcurrentBag<string> _added = [];
    private readonly ConcurrentBag<string> _passedOver = [];

    /// <summary>The summaries of a folder, which need not exist yet.</summary>
    /// <param name="folder">The folder.</param>
    /// <param name="programVersion">Version of the program, for the summaries that are added.</param>
    /// <param name="write">Writes a file whole or not at all.</param>
    /// <param name="verify">Whether a log that is there is hashed, whatever its size and time say.</param>
    public SummaryFolder(string folder, string programVersion, Action<string, byte[]> write, bool verify = false)
    {
        ArgumentNullException.ThrowIfNull(folder);
        (_folder, _programVersion, _write, _verify) = (folder, programVersion, write, verify);
        if (Directory.Exists(folder))
        {
            foreach (string file in Directory.EnumerateFiles(folder, $"*{SummaryFile.Ending}"))
            {
                Note(file);
            }
        }
    }

    /// <summary>Summaries that were used.</summary>
    public IReadOnlyCollection<string> Used => _used;

    /// <summary>Summaries that were added.</summary>
    public IReadOnlyCollection<string> Added => _added;

    /// <summary>Summaries that could not be used although their log was asked for, each with the reason.</summary>
    public IReadOnlyCollection<string> PassedOver => _passedOver;

    /// <summary>The summary that stands for a request's log; null where the log has to be read.</summary>
    /// <param name="request">The log and what is known of it.</param>
    /// <exception cref="InputException">The log is not there, and no one summary can stand for it.</exception>
    public ReadLog? Find(MeasureRequest request)
    {
        ArgumentNullException.ThrowIfNull(request);
        if (request.Content is not null)
        {
            return null;
        }

        bool isThere = request.Paths.All(File.Exists);
        var found = new List<(string Path, ReadLog Read)>();
        foreach (string path in FilesOf(_byLog, request))
        {
            var (read, why) = TryRead(request, path);
            if (read is not null)
            {
                found.Add((path, read));
            }
            else if (!isThere)
            {
                throw new InputException(InputProblem.Unusable,
                    $"{Name(request)} is not there, and its summary {path} cannot stand for it: {why}");
            }
            else
            {
                _passedOver.Add($"{path}: {why}");
            }
        }

        if (!isThere && found.Count > 1)
        {
            throw new InputException(InputProblem.Unusable,
                $"{Name(request)} is not there, and {found[0].Path} and {found[1].Path} are summaries of two states of it; remove the one "
                    + "that is out of date");
        }

        if (found.Count == 0)
        {
            return FromParts(request, isThere) ?? (isThere ? null : RefuseOthers(request));
        }

        _used.Add(found[0].Path);
        return found[0].Read;
    }

    // The log is not there, but summaries that were made with other settings are.
    private ReadLog? RefuseOthers(MeasureRequest request)
    {
        if (!_byLog.TryGetValue(LogKey(NamesOf(request)), out var ofLog))
        {
            return null;
        }

        foreach (string path in ofLog.Order(StringComparer.Ordinal))
        {
            if (Known(path) is { } read && SummaryMatch.WhyNot(request, read, takesOver: false) is { } why)
            {
                throw SummaryMatch.Refusal(request, read,
                    $"{Name(request)} is not there, and its summary {path} cannot stand for it: {why}");
            }
        }

        return null;
    }

    /// <summary>How a log was understood when it was summarized with the same settings; null where no summary tells.</summary>
    /// <param name="request">The log; the stretch of it that is meant does not count.</param>
    internal LogLayout? LayoutOf(MeasureRequest request)
    {
        var said = LogSettings.OfLook(request);
        return !_byLog.TryGetValue(LogKey(NamesOf(request)), out var files) ? null : files.Order(StringComparer.Ordinal)
            .Select(f => (Path: f, Read: Known(f)))
            .FirstOrDefault(f => f.Read is not null && Changed(f.Path, f.Read, request) is null
                && LogSettings.OfLook(f.Read.From!.Said).SequenceEqual(said)).Read?.Own;
    }

    private ReadLog? Known(string path)
    {
        try
        {
            return _ahead.Count < MostAhead
                ? _ahead.GetOrAdd(path, SummaryFile.Read)
                : _ahead.TryGetValue(path, out var read) ? read : SummaryFile.Read(path);
        }
        catch (InputException)
        {
            // Reported when it is the log's own turn.
            return null;
        }
    }

    /// <summary>Adds the summary of a log that was read.</summary>
    /// <param name="request">The request that it was read for.</param>
    /// <param name="read">The log as it was read.</param>
    /// <param name="states">Its files as they were before.</param>
    internal void Add(MeasureRequest request, ReadLog read, IReadOnlyList<FileState> states)
    {
        if (request.Content is not null || states.Count != read.Outcomes.Count)
        {
            return;
        }

        var about = AboutOf(request, read.Outcomes.Select(o => o.Sha256), states, []);
        Put(FileFor(request, about, ""), SummaryFile.Of(read, about));
    }

    private SummaryAbout AboutOf(MeasureRequest request, IEnumerable<string> sha256, IReadOnlyList<FileState> states,
        IReadOnlyList<long> ends)
    {
        var names = NamesOf(request);
        return new SummaryAbout
        {
            ProgramVersion = _programVersion,
            Said = LogSettings.Of(request),
            Files = [.. sha256.Select((hash, i) => new SummarizedFile(names[i], states[i].Bytes, states[i].Written, hash)
            {
                Place = PlaceOf(request.Paths[i]),
                Ends = ends,
            })],
        };
    }

    private string FileFor(MeasureRequest request, SummaryAbout about, string part)
    {
        var names = NamesOf(request);
        return Path.Combine(_folder, $"{PlainName(names[0])}-{LogKey(names)}-{RequestKey(request)}-"
            + $"{HashOf(about.Files.Select(f => f.Sha256))}{part}{SummaryFile.Ending}");
    }

    private void Put(string path, byte[] bytes)
    {
        _write(path, bytes);
        _ahead.TryRemove(path, out _);
        Note(path);
        _added.Add(path);
    }

    /// <summary>The files of a request as they stand now; none where one of them is not a file.</summary>
    internal static IReadOnlyList<FileState> StatesOf(MeasureRequest request) =>
        request.Paths.All(File.Exists) ? [.. request.Paths.Select(StateOf)] : [];

    private static IEnumerable<string> FilesOf(
        ConcurrentDictionary<string, string[]> byLog, MeasureRequest request)
    {
        string asked = $"-{RequestKey(request)}-";
        return byLog.TryGetValue(LogKey(NamesOf(request)), out var ofLog)
            ? ofLog.Where(f => Path.GetFileName(f).Contains(asked, StringComparison.Ordinal)).Order(StringComparer.Ordinal)
            : [];
    }

    private (ReadLog? Read, string Why) TryRead(MeasureRequest request, string path)
    {
        ReadLog read;
        try
        {
            read = _ahead.TryRemove(path, out var known) ? known : SummaryFile.Read(path);
        }
        catch (InputException e)
        {
            return (null, e.Message);
        }

        return (Changed(path, read, request) ?? SummaryMatch.WhyNot(request, read, takesOver: false)) is { } why ? (null, why) : (read, "");
    }

    private string? Changed(string summary, ReadLog read, MeasureRequest request)
    {
        var files = read.From!.Files;
        if (!files.Select(f => f.Name).SequenceEqual(NamesOf(request)))
        {
            return $"it is of {files[0].Name}";
        }

        var summarized = File.GetLastWriteTimeUtc(summary);
        string? changed = request.Paths.Where((p, i) => File.Exists(p) && !IsOf(files[i], p, summarized)).FirstOrDefault();
        return changed is null ? null : $"{changed} has changed since";
    }

    // A file may be written twice within one tick of its clock, so a log that was fresh when it was summarized is hashed.
    private bool IsOf(SummarizedFile file, string path, DateTime summarized, LogPart? part = null)
    {
        var state = StateOf(path);
        bool looksSame = !_verify && state.Written == file.Written.UtcDateTime && PlaceOf(path) == file.Place
            && summarized - state.Written > LeastAge;
        return state.Bytes == file.Bytes && (looksSame || HashOf(file, path, part) == file.Sha256);
    }

    private static string HashOf(SummarizedFile file, string path, LogPart? part) => part is null
        ? FileHash.OfParts(path, file.Ends)
        : FileHash.Sha256(path, part.FromByte, part.ToByte);

    // log-LOG-REQUEST-CONTENT: three hashes of so many digits.
    private void Note(string path)
    {
        const int Tail = 3 * (HexDigits + 1);
        string name = Path.GetFileName(path)[..^SummaryFile.Ending.Length];
        var byLog = PartEnding().Match(name) is { Success: true } part ? _partsByLog : _byLog;
        name = PartEnding().Replace(name, "");
        if (name.Length > Tail && name[^Tail] == '-')
        {
            string key = name[^(Tail - 1)..][..HexDigits];
            byLog.AddOrUpdate(key, [path], (_, known) => known.Contains(path) ? known : [.. known, path]);
        }
    }

    private static FileState StateOf(string path)
    {
        var file = new FileInfo(path);
        return new FileState(file.Length, file.LastWriteTimeUtc);
    }

    internal static string LogKey(IReadOnlyList<string> names) => HashOf(names.Select(n => n.Replace('\\', '/')));

    private static string RequestKey(MeasureRequest request) =>
        HashOf([request.Meter?.Name ?? "", .. LogSettings.Of(request).Select(s => $"{s.Key}={s.Value}")]);

    private static IReadOnlyList<string> NamesOf(MeasureRequest request) => request.Names ?? request.Paths;

    private static string Name(MeasureRequest request) => NamesOf(request)[0];

    // Whoever reads the folder's listing sees which log it is; letters that some file system refuses are left out.
    private static string PlainName(string name)
    {
        string plain = new([.. Path.GetFileName(name).Take(60).Select(c => char.IsAsciiLetterOrDigit(c) || c is '.' or '_' ? c : '-')]);
        return plain.TrimStart('.') is { Length: > 0 } some ? some : "log";
    }

    private static string HashOf(IEnumerable<string> parts)
    {
        byte[] text = Encoding.UTF8.GetBytes(string.Join('\n', parts.Select(p => InvariantText.Of($"{p.Length} {p}"))));
        return FileHash.Sha256(text)[..HexDigits];
    }

    // Where a log stands is no business of whoever its summary is sent to.
    internal static string PlaceOf(string path) => HashOf([Path.GetFullPath(path)]);
}
