using System.Security.Cryptography;
using System.Text;
using ChargeAudit.Cli.Folders;
using ChargeAudit.Cli.Hosting;
using ChargeAudit.Comparing.Auditing;
using ChargeAudit.Logs;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Reports.Charts;
using ChargeAudit.Reports.Html;
using ChargeAudit.Reports.Model;
using ChargeAudit.Studies.Drafting;

namespace ChargeAudit.Cli.Page;

/// <summary>The logs that a page took in, in a folder of their own that only its owner may open and that goes with the session.</summary>
/// <param name="limits">How much it takes.</param>
/// <param name="clock">The clock.</param>
/// <param name="told">What the user says of all logs; null for nothing.</param>
public sealed class PageSession(PageLimits limits, TimeProvider clock, LogOptions? told = null) : IDisposable
{
    // On Unix the folder is made for its owner alone (0700); on Windows it lies in the user's own temporary folder.
    private readonly string _folder = Directory.CreateTempSubdirectory("chargeaudit-page-").FullName;
    private readonly SemaphoreSlim _one = new(1, 1);
    private readonly List<TakenLog> _logs = [];
    private readonly Dictionary<string, string> _names = [];
    private long _bytes;

    /// <summary>The report made last; null where none was.</summary>
    public byte[]? Report { get; private set; }

    /// <summary>Takes a log.</summary>
    /// <param name="sentName">Its name as sent; null: none.</param>
    /// <param name="length">The size that is announced; null: none. [byte]</param>
    /// <param name="content">Its content.</param>
    /// <param name="cancellation">Stops it.</param>
    /// <exception cref="PageException">It is too large, or one too many.</exception>
    /// <exception cref="InputException">It is no log.</exception>
    public Task<PageState> TakeAsync(string? sentName, long? length, Stream content, CancellationToken cancellation) => AloneAsync(
        async () =>
        {
            Refuse(limits.TooMany(_logs.Count) ?? limits.TooLarge(length ?? 0, _bytes));
            string name = PageName.Of(sentName, [.. _logs.Select(l => l.Name)]);
            string id = Convert.ToHexStringLower(RandomNumberGenerator.GetBytes(16));
            string path = Path.Combine(_folder, id + PageName.Ending(name));
            _names[path] = name;
            bool kept = false;
            try
            {
                long size = await CopyAsync(content, path, cancellation).ConfigureAwait(false);
                _logs.Add(new TakenLog(id, path, name, LogLook.Of([path], [name], told, cancellation)));
                _bytes += size;
                kept = true;
            }
            finally
            {
                if (!kept)
                {
                    File.Delete(path);
                }
            }

            return PageStudy.State(_logs, cancellation);
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
            Report = null;
            return Task.FromResult(new PageState([]));
        },
        cancellation);

    /// <summary>Makes the report.</summary>
    /// <param name="said">What the user said.</param>
    /// <param name="cancellation">Stops it.</param>
    /// <exception cref="InputException">The logs and what was said of them make no comparison.</exception>
    public Task<ReportMade> MakeAsync(SaidOnPage said, CancellationToken cancellation) => AloneAsync(
        () =>
        {
            Report = null;
            var draft = PageStudy.Draft(_logs, said, cancellation);
            var assumptions = FolderStudy.AssumedIn(draft);
            var result = Auditor.Run(
                PageStudy.Of(draft, _logs, said, _folder),
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
            Report = Encoding.UTF8.GetBytes(HtmlPage.Of(result, ChartSet.Of(result), ReportPlace.LocalPage));
            return Task.FromResult(new ReportMade(assumptions));
        },
        cancellation);

    /// <inheritdoc/>
    public void Dispose()
    {
        _one.Dispose();
        Directory.Delete(_folder, recursive: true);
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
                Refuse(limits.TooLarge(size, _bytes));
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
            _one.Release();
        }
    }

    // Sentences name the file that they are about; people know it by the name that they gave it. One that begins with no name begins with a capital letter.
    private string ForPeople(string sentence)
    {
        foreach (var (path, name) in _names)
        {
            sentence = sentence.Replace(path, name, StringComparison.Ordinal).Replace(Path.GetFileName(path), name, StringComparison.Ordinal);
        }

        return _names.Values.Any(n => sentence.StartsWith(n, StringComparison.Ordinal)) ? sentence : char.ToUpperInvariant(sentence[0]) + sentence[1..];
    }

    private static void Refuse(string? sentence)
    {
        if (sentence is not null)
        {
            throw new PageException(413, sentence);
        }
    }
}
