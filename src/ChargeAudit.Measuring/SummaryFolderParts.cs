using System.Collections.Concurrent;
using System.Globalization;
using System.Text.RegularExpressions;
using ChargeAudit.Logs.Sources;
using ChargeAudit.Measuring.Summaries;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;

namespace ChargeAudit.Measuring;

// Summaries of parts of logs, and how they become those of whole logs.
public sealed partial class SummaryFolder
{
    private const int MostNamed = 10;

    private readonly ConcurrentDictionary<string, string[]> _partsByLog = new(StringComparer.Ordinal);

    /// <summary>The summary of a whole log, joined from those of its parts and added to the folder; the log is not read.</summary>
    /// <param name="request">The log and what is known of it.</param>
    /// <exception cref="InputException">A part is missing, or they do not belong together.</exception>
    public ReadLog Join(MeasureRequest request)
    {
        ArgumentNullException.ThrowIfNull(request);
        var (read, why) = TryJoin(request);
        return read ?? throw new InputException(InputProblem.Unusable, why ?? $"{Name(request)}: the folder holds no part of it");
    }

    /// <summary>The summary of a part that was made before; null where it has to be read.</summary>
    internal ReadPart? FindPart(MeasureRequest request, int number, int count)
    {
        foreach (string path in FilesOf(_partsByLog, request).Where(f => NumberOf(f) == (number, count)))
        {
            if (TryPart(request, path, out string why) is { } part)
            {
                _used.Add(path);
                return part;
            }

            _passedOver.Add(why);
        }

        return null;
    }

    /// <summary>Adds the summary of a part that was read.</summary>
    internal void Add(MeasureRequest request, ReadPart read, IReadOnlyList<FileState> states)
    {
        var (range, counts) = (read.Part.Range, read.Part.Counts);
        var about = AboutOf(request, [counts.Outcome.Sha256], states, []);
        Put(FileFor(request, about, InvariantText.Of($".part-{range.Number}-of-{range.Count}")), SummaryFile.Of(read, about));
    }

    private ReadLog? FromParts(MeasureRequest request, bool isThere)
    {
        var (read, why) = TryJoin(request);
        if (read is null && why is not null)
        {
            if (!isThere)
            {
                throw new InputException(InputProblem.Unusable, why);
            }

            _passedOver.Add(why);
        }

        return read;
    }

    // Of several ways to cut the log, the first of which all parts are there.
    private (ReadLog? Read, string? Why) TryJoin(MeasureRequest request)
    {
        string? first = null;
        foreach (var files in FilesOf(_partsByLog, request).GroupBy(f => NumberOf(f).Count).OrderBy(g => g.Key))
        {
            try
            {
                return (Joined(request, [.. files], files.Key), null);
            }
            catch (InputException e)
            {
                first ??= e.Message;
            }
        }

        return (null, first);
    }

    private ReadLog Joined(MeasureRequest request, IReadOnlyList<string> files, int count)
    {
        var reasons = new List<string>();
        var byNumber = new Dictionary<int, (string Path, ReadPart Part)>();
        foreach (string path in files)
        {
            if (TryPart(request, path, out string why) is not { } part)
            {
                reasons.Add(why);
            }
            else if (!byNumber.TryAdd(part.Part.Range.Number, (path, part)))
            {
                throw new InputException(InputProblem.Unusable, $"{Name(request)}: {byNumber[part.Part.Range.Number].Path} and {path} are "
                    + "summaries of two states of one part; remove the one that is out of date");
            }
        }

        int[] missing = [.. Enumerable.Range(1, count).Where(i => !byNumber.ContainsKey(i))];
        if (missing.Length > 0)
        {
            string named = string.Join(", ", missing.Take(MostNamed).Select(i => i.ToString(CultureInfo.InvariantCulture)));
            throw new InputException(InputProblem.Unusable, InvariantText.Of($"{Name(request)}: of its {count} parts there ")
                + InvariantText.Of($"{(missing.Length == 1 ? "is no summary of part" : "are no summaries of parts")} {named}")
                + (missing.Length > MostNamed ? " and others" : "")
                + $"; nothing was added up without {(missing.Length == 1 ? "it" : "them")}"
                + (reasons.Count > 0 ? $" ({reasons[0]})" : ""));
        }

        var parts = byNumber.OrderBy(p => p.Key).Select(p => p.Value).ToList();
        CheckOneState(request, [.. parts.Select(p => p.Part)]);
        var whole = LogParts.Join(request, [.. parts.Select(p => p.Part)]);
        var file = parts[0].Part.From!.Files[0];
        var about = parts[0].Part.From! with
        {
            ProgramVersion = _programVersion,
            Files = [file with { Sha256 = whole.Outcomes[0].Sha256, Ends = [.. parts.Select(p => p.Part.Part.Range.ToByte)] }],
        };
        Put(FileFor(request, about, ""), SummaryFile.Of(whole, about));
        return whole with { From = about };
    }

    // Parts that were made of a log at different times may be of two states of it that look alike where they are cut.
    private static void CheckOneState(MeasureRequest request, IReadOnlyList<ReadPart> parts)
    {
        var files = parts.Select(p => p.From!.Files[0]).ToList();
        int other = files.FindIndex(f => f.Bytes != files[0].Bytes || (f.Written - files[0].Written).Duration() >= LeastAge);
        if (other >= 0 && !request.Paths.All(File.Exists))
        {
            throw new InputException(InputProblem.Unusable, InvariantText.Of(
                $"{Name(request)}: parts 1 and {other + 1} were made of a log of other length or age; copy a log with its time, and "
                    + $"summarize the parts again that are out of date"));
        }
    }

    private ReadPart? TryPart(MeasureRequest request, string path, out string why)
    {
        why = "";
        try
        {
            var part = SummaryFile.ReadPart(path);
            why = ChangedPart(path, part, request) is { } changed ? $"{path}: {changed}" : "";
            return why.Length == 0 ? part : null;
        }
        catch (InputException e)
        {
            why = $"{path}: {e.Message}";
            return null;
        }
    }

    private string? ChangedPart(string path, ReadPart part, MeasureRequest request)
    {
        var (about, range) = (part.From!, part.Part.Range);
        if (!about.Files.Select(f => f.Name).SequenceEqual(NamesOf(request)) || NumberOf(path) != (range.Number, range.Count))
        {
            return InvariantText.Of($"it is of part {range.Number} of {range.Count} of {about.Files[0].Name}");
        }

        string log = request.Paths[0];
        return !File.Exists(log) || IsOf(about.Files[0], log, File.GetLastWriteTimeUtc(path), range) ? null : $"{log} has changed since";
    }

    private static (int Number, int Count) NumberOf(string path)
    {
        var found = PartEnding().Match(Path.GetFileName(path)[..^SummaryFile.Ending.Length]);
        return (int.Parse(found.Groups[1].ValueSpan, CultureInfo.InvariantCulture),
            int.Parse(found.Groups[2].ValueSpan, CultureInfo.InvariantCulture));
    }

    [GeneratedRegex(@"\.part-([0-9]{1,5})-of-([0-9]{1,5})$", RegexOptions.CultureInvariant)]
    private static partial Regex PartEnding();
}
