using System.Security.Cryptography;
using System.Text;
using System.Text.Json;
using ChargeAudit.Cli.Folders;
using ChargeAudit.Cli.Hosting;
using ChargeAudit.Comparing.Auditing;
using ChargeAudit.Comparing.Auditing.Doubts;
using ChargeAudit.Logs;
using ChargeAudit.Logs.Sources;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Reports.Charts;
using ChargeAudit.Reports.Html;
using ChargeAudit.Reports.Model;
using ChargeAudit.Reports.Text;
using ChargeAudit.Studies;
using ChargeAudit.Studies.Drafting;

namespace ChargeAudit.Cli.Page;

/// <summary>The logs that a page was given, in a folder of their own that only its owner may open and that goes with the session.</summary>
/// <param name="limits">How much it takes.</param>
/// <param name="clock">The clock.</param>
/// <param name="told">What the user says about all logs; null for nothing.</param>
public sealed class PageSession(PageLimits limits, TimeProvider clock, LogOptions? told = null) : IDisposable
{
    private readonly PageFolder _folder = PageFolder.Make(clock);
    private readonly SemaphoreSlim _uploads = new(PageLimits.UploadsAtOnce);
    private readonly SemaphoreSlim _one = new(1, 1);
    private readonly List<TakenLog> _logs = [];
    private readonly Dictionary<string, string> _names = [];
    private long _bytes;
    private SaidOnPage? _said;
    private ReportMade? _made;
    private bool _stale;

    /// <summary>The report made last; null where none was.</summary>
    public byte[]? Report { get; private set; }

    /// <summary>How the user wants numbers and dates written; null: as the program writes them by itself.</summary>
    public WrittenForm? Form => (_said?.Locale is { Length: > 0 } tag ? WrittenForm.Find(tag) : null) ?? WrittenForm.Current;

    /// <summary>Takes a log.</summary>
    /// <param name="sentName">Its name as sent; null: none.</param>
    /// <param name="length">The size that is announced; null: none. [byte]</param>
    /// <param name="content">Its content.</param>
    /// <param name="cancellation">Stops it.</param>
    /// <exception cref="PageException">It is too large, or one too many.</exception>
    /// <exception cref="InputException">It is not a log.</exception>
    public async Task<PageState> TakeAsync(string? sentName, long? length, Stream content, CancellationToken cancellation)
    {
        Refuse(limits.TooMany(_logs.Count) ?? limits.TooLarge(length ?? 0, Interlocked.Read(ref _bytes)));
        string id = Convert.ToHexStringLower(RandomNumberGenerator.GetBytes(16));
        string path = Path.Combine(_folder.Path, id + PageName.Ending(PageName.Of(sentName, [])));
        bool kept = false;
        await _uploads.WaitAsync(cancellation).ConfigureAwait(false);
        try
        {
            // A file that comes slowly keeps nobody else from the logs.
            long size = await CopyAsync(content, path, cancellation).ConfigureAwait(false);
            var state = await AloneAsync(() => Task.FromResult(Add(id, path, sentName, size, cancellation)), cancellation)
                .ConfigureAwait(false);
            kept = true;
            return state;
        }
        finally
        {
            _uploads.Release();
            if (!kept)
            {
                File.Delete(path);
            }
        }
    }

    /// <summary>The logs that are there.</summary>
    /// <param name="cancellation">Stops it.</param>
    public Task<PageState> StateAsync(CancellationToken cancellation) =>
        AloneAsync(() => Task.FromResult(State(cancellation)), cancellation);

    /// <summary>Keeps what the user said, for a page that is loaded again.</summary>
    /// <param name="said">What was said.</param>
    /// <param name="cancellation">Stops it.</param>
    public Task<PageState> SayAsync(SaidOnPage said, CancellationToken cancellation) => AloneAsync(
        () =>
        {
            Keep(said);
            return Task.FromResult(State(cancellation));
        },
        cancellation);

    /// <summary>Forgets one log; one that is not there is no fault.</summary>
    /// <param name="id">Its random name.</param>
    /// <param name="cancellation">Stops it.</param>
    public Task<PageState> RemoveAsync(string id, CancellationToken cancellation) => AloneAsync(
        () =>
        {
            if (_logs.Find(l => l.Id == id) is { } log)
            {
                Interlocked.Add(ref _bytes, -new FileInfo(log.Path).Length);
                File.Delete(log.Path);
                _logs.Remove(log);
                _stale = true;
            }

            return Task.FromResult(State(cancellation));
        },
        cancellation);

    /// <summary>Reads a log again as the user says, and calls it by another name.</summary>
    /// <param name="said">What was said about it.</param>
    /// <param name="cancellation">Stops it.</param>
    /// <exception cref="PageException">There is no such log.</exception>
    /// <exception cref="InputException">It cannot be read so; it stays as it was.</exception>
    public Task<PageState> ReadAsync(SaidReading said, CancellationToken cancellation) => AloneAsync(
        () =>
        {
            int at = _logs.FindIndex(l => l.Id == said.Id);
            if (at < 0)
            {
                throw new PageException(404, "That log is not there any more; load the page again.");
            }

            var log = _logs[at];
            string name = string.IsNullOrWhiteSpace(said.Name) || said.Name == log.Name
                ? log.Name
                : PageName.Of(Uri.EscapeDataString(said.Name), [.. _logs.Where(l => l != log).Select(l => l.Name)]);
            var facts = LogLook.Of([log.Path], [name], PageMeters.Reading(said, told), cancellation);
            _names[log.Path] = name;
            _logs[at] = log with { Name = name, Facts = facts, Reading = said };
            _stale = true;
            return Task.FromResult(State(cancellation));
        },
        cancellation);

    /// <summary>Forgets all logs and the report.</summary>
    /// <param name="cancellation">Stops it.</param>
    public Task<PageState> ClearAsync(CancellationToken cancellation) => AloneAsync(
        () =>
        {
            _logs.ForEach(l => File.Delete(l.Path));
            _logs.Clear();
            _names.Clear();
            _bytes = 0;
            (Report, _made, _said, _stale) = (null, null, null, false);
            return Task.FromResult(new PageState([]));
        },
        cancellation);

    /// <summary>Makes the report.</summary>
    /// <param name="said">What the user said.</param>
    /// <param name="cancellation">Stops it.</param>
    /// <exception cref="InputException">The logs and what was said about them make no comparison.</exception>
    public Task<ReportMade> MakeAsync(SaidOnPage said, CancellationToken cancellation) => AloneAsync(
        () =>
        {
            Keep(said);
            try
            {
                return Task.FromResult(Make(said, cancellation));
            }
            catch
            {
                // The report that is there would rest on other answers.
                (Report, _made) = (null, null);
                throw;
            }
        },
        cancellation);

    /// <inheritdoc/>
    public void Dispose()
    {
        _one.Dispose();
        _uploads.Dispose();
        _folder.Dispose();
    }

    private ReportMade Make(SaidOnPage said, CancellationToken cancellation)
    {
        using var written = Form?.Use();
        var draft = PageStudy.Draft(_logs, said, cancellation);
        var assumptions = FolderStudy.AssumedIn(
            draft, said is { StartPercent: not null, EndPercent: not null }, said.Accuracy?.Values.Any(a => a.Length > 0) == true);
        var study = PageStudy.Of(draft, _logs, said, _folder.Path);
        AskAboutPrice(study, said);
        var result = Auditor.Run(
            study,
            new AuditOptions
            {
                ProgramVersion = ProgramVersion.Text,
                CommandLine = "chargeaudit page",
                Assumptions = assumptions,
                Drafted = true,
                PassedOver = draft.PassedOver,
                Clock = clock,
            },
            cancellation);
        Report = Encoding.UTF8.GetBytes(HtmlPage.Of(result, ChartSet.Of(result, cancellation), ReportPlace.LocalPage));
        _made = new ReportMade(assumptions, [.. Answer.Sentences(result), .. Answer.YearSentences(result)]);
        _stale = false;
        return _made;
    }

    private PageState State(CancellationToken cancellation)
    {
        using var written = Form?.Use();
        return PageStudy.State(_logs, cancellation) with { Said = _said, Made = _made, Stale = _stale && _made is not null };
    }

    private void Keep(SaidOnPage said)
    {
        double?[] numbers = [said.Price, said.ChargesPerWeek, said.HoursOnCharger, said.StartPercent, said.EndPercent];
        if (numbers.Any(n => n is { } number && !double.IsFinite(number)))
        {
            throw new PageException(400, "A number is too large; give prices, charges, hours and states of charge as plain numbers.");
        }

        string now = JsonSerializer.Serialize(said, PageJson.Default.SaidOnPage);
        _stale |= _said is null || JsonSerializer.Serialize(_said, PageJson.Default.SaidOnPage) != now;
        _said = said;
    }

    // 30 for 0.30 makes a year a hundred times as dear, and nobody would notice in a chart.
    private static void AskAboutPrice(Study study, SaidOnPage said)
    {
        if (said.PriceIsRight != true && UnlikelyPrice.Meant(study.Tariff) is { } meant)
        {
            string question = Prose.Of(
                $"Is {said.Price} {study.Tariff!.Currency} for a kilowatt-hour right, or was {meant:0.####} meant?");
            throw new PageException(409, question, meant);
        }
    }

    private PageState Add(string id, string path, string? sentName, long size, CancellationToken cancellation)
    {
        // Others may have come while this one was copied.
        Refuse(limits.TooMany(_logs.Count) ?? limits.TooLarge(size, _bytes));
        string name = PageName.Of(sentName, [.. _logs.Select(l => l.Name)]);
        _names[path] = name;
        string hash = FileHash.Sha256(path);
        var log = new TakenLog(id, path, name, LogLook.Of([path], [name], told, cancellation), hash);

        // What cannot be used beside the others is refused before it is kept.
        PageStudy.State([.. _logs, log], cancellation);
        _logs.Add(log);
        _stale = true;
        Interlocked.Add(ref _bytes, size);
        return State(cancellation);
    }

    private async Task<long> CopyAsync(Stream content, string path, CancellationToken cancellation)
    {
        var file = new FileStream(path, FileMode.CreateNew, FileAccess.Write, FileShare.None);
        await using (file.ConfigureAwait(false))
        {
            byte[] buffer = new byte[64 * 1024];
            long size = 0;
            for (int read; (read = await content.ReadAsync(buffer, cancellation).ConfigureAwait(false)) > 0;)
            {
                size += read;
                Refuse(limits.TooLarge(size, Interlocked.Read(ref _bytes)));
                await file.WriteAsync(buffer.AsMemory(0, read), cancellation).ConfigureAwait(false);
            }

            return size;
        }
    }

    private async Task<T> AloneAsync<T>(Func<Task<T>> work, CancellationToken cancellation)
    {
        await _one.WaitAsync(cancellation).ConfigureAwait(false);
        try
        {
            return await work().ConfigureAwait(false);
        }
        catch (InputException e)
        {
            throw new InputException(e.Problem, ForPeople(e.Message), e);
        }
        finally
        {
            // Names of files that were refused are not needed any more.
            foreach (string gone in _names.Keys.Where(p => !_logs.Exists(l => l.Path == p)).ToList())
            {
                _names.Remove(gone);
            }

            _one.Release();
        }
    }

    // Sentences name the file that they are about; people know it by the name that they gave it. One that begins with no name begins with a
    // capital letter.
    private string ForPeople(string sentence)
    {
        foreach (var (path, name) in _names)
        {
            sentence = sentence.Replace(path, name, StringComparison.Ordinal)
                .Replace(Path.GetFileName(path), name, StringComparison.Ordinal);
        }

        return _names.Values.Any(n => sentence.StartsWith(n, StringComparison.Ordinal))
            ? sentence
            : PlainWords.Capital(sentence);
    }

    private static void Refuse(string? sentence)
    {
        if (sentence is not null)
        {
            throw new PageException(413, sentence);
        }
    }
}
