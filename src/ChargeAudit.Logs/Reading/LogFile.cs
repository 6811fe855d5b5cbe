using ChargeAudit.Logs.Layout;
using ChargeAudit.Metrology.Diagnostics;

namespace ChargeAudit.Logs.Reading;

/// <summary>
/// An open log: what a bounded first look found, and its rows, which are handed to a sink in memory that does not grow with the log. What
/// had to be kept for the reading, such as a copy of a stream in a temporary file, goes away when it is disposed of.
/// </summary>
/// <remarks>Different logs may be read side by side; one log is read by one caller at a time.</remarks>
public sealed class LogFile : IDisposable
{
    private readonly LogOptions _options;
    private bool _closed;

    private LogFile(IReadOnlyList<string> names, LogLayout layout, LogOptions options)
    {
        Names = names;
        Layout = layout;
        _options = options;
    }

    /// <summary>Names of the files, in order of time.</summary>
    public IReadOnlyList<string> Names { get; }

    /// <summary>What the first look found; of several files, that of the first, whose start is the origin of all times.</summary>
    public LogLayout Layout { get; }

    /// <summary>Opens a log and looks at its head and at pieces of its body.</summary>
    /// <param name="path">File name, or <c>-</c> for <see cref="LogOptions.StandardInput"/>.</param>
    /// <param name="options">What is known about the log; null: nothing.</param>
    /// <exception cref="InputException">The file is missing, or cannot be understood as a log.</exception>
    public static LogFile Open(string path, LogOptions? options = null) => Open([path], options);

    /// <summary>Opens several files that follow one another in time, as one log.</summary>
    /// <param name="paths">File names in order of time.</param>
    /// <param name="options">What is known about the log; null: nothing.</param>
    /// <exception cref="InputException">A file is missing, cannot be understood, or holds other quantities than the first.</exception>
    public static LogFile Open(IReadOnlyList<string> paths, LogOptions? options = null)
    {
        ArgumentNullException.ThrowIfNull(paths);
        options ??= new LogOptions();
        return new LogFile(paths, LogReader.Inspect(paths, options), options);
    }

    /// <summary>Opens a log that comes as a stream. It is copied to a temporary file, as the look and the reading both need it.</summary>
    /// <param name="stream">The log's bytes, from the stream's position to its end; it stays open.</param>
    /// <param name="name">Name for messages.</param>
    /// <param name="options">What is known about the log; null: nothing.</param>
    /// <exception cref="InputException">The bytes cannot be understood as a log.</exception>
    public static LogFile Open(Stream stream, string name, LogOptions? options = null)
    {
        ArgumentNullException.ThrowIfNull(stream);
        ArgumentNullException.ThrowIfNull(name);
        options ??= new LogOptions();
        return new LogFile([name], LogReader.Inspect(stream, name, options), options);
    }

    /// <summary>Reads all rows, in rising time; times count from the first sample of the first file.</summary>
    /// <typeparam name="TSink">Where samples go; a struct, so that handing over costs nothing.</typeparam>
    /// <param name="sink">Takes the samples.</param>
    /// <param name="bytesRead">Told how many bytes of all files have been read, a few times a second.</param>
    /// <param name="cancellation">Stops the reading.</param>
    /// <returns>What was counted on the way, a file each; an overlap with the file before, or a hole between them, is a fault of the later
    /// one.</returns>
    /// <exception cref="InputException">The log cannot be used, or is strict and has a fault.</exception>
    /// <exception cref="OperationCanceledException">The reading was stopped.</exception>
    public IReadOnlyList<ReadOutcome> ReadInto<TSink>(ref TSink sink, IProgress<long>? bytesRead = null,
        CancellationToken cancellation = default)
        where TSink : struct, ISampleSink => ReadInto(_options, ref sink, bytesRead, cancellation);

    /// <summary>Reads all rows as other options ask: those that came out of a first reading, such as lines to leave out. The look is not
    /// taken again.</summary>
    /// <typeparam name="TSink">Where samples go.</typeparam>
    /// <param name="options">What is known about the log by now.</param>
    /// <param name="sink">Takes the samples.</param>
    /// <param name="bytesRead">Told how many bytes of all files have been read.</param>
    /// <param name="cancellation">Stops the reading.</param>
    /// <returns>What was counted on the way, a file each.</returns>
    /// <exception cref="InputException">The log cannot be used, or is strict and has a fault.</exception>
    /// <exception cref="OperationCanceledException">The reading was stopped.</exception>
    public IReadOnlyList<ReadOutcome> ReadInto<TSink>(LogOptions options, ref TSink sink, IProgress<long>? bytesRead = null,
        CancellationToken cancellation = default)
        where TSink : struct, ISampleSink
    {
        ObjectDisposedException.ThrowIf(_closed, this);
        return LogReader.ReadInto(Names, Layout, options, ref sink, bytesRead, cancellation);
    }

    /// <summary>Reads the rows that are there and then those that are appended, each once, until it is told to stop.</summary>
    /// <typeparam name="TSink">Where samples go.</typeparam>
    /// <param name="sink">Takes the samples.</param>
    /// <param name="more">Asked, on the thread of the caller, each time that all bytes so far have been read: it waits for more and says
    /// whether to go on. A last line without its end is held back until then.</param>
    /// <param name="cancellation">Stops the reading.</param>
    /// <returns>What was counted on the way.</returns>
    /// <exception cref="InputException">The log is no file of plain text, was cut short, or cannot be used.</exception>
    /// <exception cref="OperationCanceledException">The reading was stopped.</exception>
    public ReadOutcome Follow<TSink>(ref TSink sink, Func<bool> more, CancellationToken cancellation = default)
        where TSink : struct, ISampleSink
    {
        ArgumentNullException.ThrowIfNull(more);
        return ReadInto(_options with { More = more, Parallel = false }, ref sink, null, cancellation)[0];
    }

    /// <summary>Reads all rows on a thread of the pool: reading is work for the processor.</summary>
    /// <typeparam name="TSink">Where samples go.</typeparam>
    /// <param name="sink">Takes the samples.</param>
    /// <param name="bytesRead">Told how many bytes of all files have been read.</param>
    /// <param name="cancellation">Stops the reading.</param>
    /// <returns>The sink with all samples in it, and what was counted on the way.</returns>
    /// <exception cref="InputException">The log cannot be used, or is strict and has a fault.</exception>
    /// <exception cref="OperationCanceledException">The reading was stopped.</exception>
    public Task<(TSink Sink, IReadOnlyList<ReadOutcome> Outcomes)> ReadIntoAsync<TSink>(TSink sink, IProgress<long>? bytesRead = null,
        CancellationToken cancellation = default)
        where TSink : struct, ISampleSink =>
        Task.Run(
            () =>
            {
                IReadOnlyList<ReadOutcome> outcomes = ReadInto(ref sink, bytesRead, cancellation);
                return (sink, outcomes);
            },
            cancellation);

    /// <summary>Closes the log.</summary>
    public void Dispose()
    {
        _closed = true;
        Layout.Close();
    }
}
