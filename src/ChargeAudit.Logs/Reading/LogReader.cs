using ChargeAudit.Logs.FirstLook;
using ChargeAudit.Logs.Layout;
using ChargeAudit.Logs.Sources;
using ChargeAudit.Logs.Streams;
using ChargeAudit.Metrology.Diagnostics;

namespace ChargeAudit.Logs.Reading;

/// <summary>
/// Reads logs: a bounded first look decides how a log is to be understood, then its rows are read once and handed to a sink, in memory that
/// does not grow with the log.
/// </summary>
/// <remarks>Stateless; calls for different logs may run side by side.</remarks>
internal static class LogReader
{
    /// <summary>Looks at a log's head and at pieces of its body, and decides how to read it.</summary>
    /// <param name="path">File name, or <c>-</c> for standard input.</param>
    /// <param name="options">What the user says about the log.</param>
    /// <exception cref="InputException">The file is missing, or cannot be understood as a log.</exception>
    public static LogLayout Inspect(string path, LogOptions options)
    {
        ArgumentNullException.ThrowIfNull(path);
        ArgumentNullException.ThrowIfNull(options);
        return Look(LogSource.Find(path, options, null, PipedLog.Look), options);
    }

    /// <summary>Looks at a log that comes as a stream, of which a copy is kept until the layout is closed.</summary>
    /// <param name="stream">The log's bytes, from the stream's position on; it stays open.</param>
    /// <param name="name">Name for messages.</param>
    /// <param name="options">What the user says about the log.</param>
    /// <exception cref="InputException">The bytes cannot be understood as a log.</exception>
    public static LogLayout Inspect(Stream stream, string name, LogOptions options) =>
        Look(LogSource.Find(name, options, LogSource.Copy(name, stream, PipedLog.Look), PipedLog.Look), options);

    private static LogLayout Look(LogSource source, LogOptions options)
    {
        EarlyHash? hash = options.ReadFollows ? EarlyHash.Begin(source) : null;
        try
        {
            return TextLook.Inspect(source, options) with { Hash = hash };
        }
        catch
        {
            hash?.Stop();
            source.Spool?.Dispose();
            source.Unpacked?.Dispose();
            throw;
        }
    }

    /// <summary>Reads all rows of a log.</summary>
    /// <typeparam name="TSink">Where samples go; a struct, so that handing over costs nothing.</typeparam>
    /// <param name="path">The same name as given to <see cref="Inspect(string, LogOptions)"/>.</param>
    /// <param name="layout">What that found.</param>
    /// <param name="options">The same options.</param>
    /// <param name="sink">Takes the samples, in rising time.</param>
    /// <param name="bytesRead">Told how many bytes of the file have been read, a few times a second.</param>
    /// <param name="cancellation">Stops the reading.</param>
    /// <returns>What was counted on the way.</returns>
    /// <exception cref="InputException">The log cannot be used, or is strict and has a fault.</exception>
    /// <exception cref="OperationCanceledException">The reading was stopped.</exception>
    public static ReadOutcome ReadInto<TSink>(string path, LogLayout layout, LogOptions options, ref TSink sink, IProgress<long>? bytesRead,
        CancellationToken cancellation)
        where TSink : struct, ISampleSink
    {
        ArgumentNullException.ThrowIfNull(path);
        ArgumentNullException.ThrowIfNull(layout);
        ArgumentNullException.ThrowIfNull(options);
        LogSource source = LogSource.Find(path, options, layout.Spool, PipedLog.Look, layout.Unpacked);
        (source.Reshape, source.ReshapeFrom) = (layout.Reshape, layout.ReshapeFrom);
        FileState before = FileState.Of(source);
        EarlyHash? hash = layout.Hash?.IsOf(before) == true ? layout.Hash : null;
        Stream raw = options.More is { } more ? GrowingStream.Of(source, more) : source.OpenRaw();
        using var tap = new TapStream(raw, hash, bytesRead, cancellation);
        using Stream text = layout.Plan!.Encoding.ToUtf8(source.OpenText(tap, cancellation));
        try
        {
            ReadOutcome outcome = TextRows.Read(source, tap, text, layout, options, ref sink);
            return options.More is not null || FileState.Of(source) == before ? outcome : throw LogErrors.Changed(path);
        }
        catch
        {
            hash?.Stop();
            throw;
        }
    }

    /// <summary>Looks at several files that follow one another in time, as one log.</summary>
    /// <param name="paths">File names in the order of time.</param>
    /// <param name="options">What the user says about the log.</param>
    /// <returns>The layout of the first file, whose start is the origin of all times.</returns>
    /// <exception cref="InputException">A file is missing, cannot be understood, or holds other quantities than the first.</exception>
    public static LogLayout Inspect(IReadOnlyList<string> paths, LogOptions options) => FollowingFiles.Inspect(paths, options);

    /// <summary>Reads several files that follow one another in time, as one log: times count from the first sample of the first
    /// file.</summary>
    /// <typeparam name="TSink">Where samples go.</typeparam>
    /// <param name="paths">The same names as given to <see cref="Inspect(IReadOnlyList{string}, LogOptions)"/>.</param>
    /// <param name="layout">What that found.</param>
    /// <param name="options">The same options.</param>
    /// <param name="sink">Takes the samples of all files, in rising time.</param>
    /// <param name="bytesRead">Told how many bytes of all files have been read.</param>
    /// <param name="cancellation">Stops the reading.</param>
    /// <returns>One outcome a file; an overlap with the file before, or a hole between them, is a fault of the later one.</returns>
    /// <exception cref="InputException">A log cannot be used.</exception>
    /// <exception cref="OperationCanceledException">The reading was stopped.</exception>
    public static IReadOnlyList<ReadOutcome> ReadInto<TSink>(IReadOnlyList<string> paths, LogLayout layout, LogOptions options,
        ref TSink sink, IProgress<long>? bytesRead, CancellationToken cancellation)
        where TSink : struct, ISampleSink =>
        FollowingFiles.Read(paths, layout, options, ref sink, bytesRead, cancellation);
}
