using ChargeAudit.Logs.Sources;
using ChargeAudit.Logs.Streams;
using ChargeAudit.Metrology.Diagnostics;

namespace ChargeAudit.Logs.Reading;

/// <summary>Reads one of several byte ranges of an opened log, and adds up what was counted in them.</summary>
internal static class PartReading
{
    private const int HeadBytes = 1 << 16;

    /// <summary>Finds the range of a part.</summary>
    /// <param name="log">The log.</param>
    /// <param name="options">What is stated about it.</param>
    /// <param name="number">Which part, from 1.</param>
    /// <param name="count">How many there are.</param>
    /// <exception cref="InputException">The log cannot be cut, or not so often.</exception>
    public static LogPart Find(LogFile log, LogOptions options, int number, int count)
    {
        string path = log.Names[0];
        var source = SourceOf(log, options);
        if (log.Names.Count > 1)
        {
            throw LogErrors.NoParts(path, "it consists of several files");
        }

        if (LogCuts.WhyNot(source, log.Layout) is { } why)
        {
            throw LogErrors.NoParts(path, why);
        }

        long bytes = new FileInfo(source.Path).Length;
        LogCuts.Cut CutAt(int at) => at == 0 ? new LogCuts.Cut(0, double.NaN) : at == count ? new LogCuts.Cut(bytes, double.NaN)
            : LogCuts.Find(source, log.Layout, bytes, at, count) ?? throw LogErrors.NoCut(path, at, count);
        var (from, to) = (CutAt(number - 1), CutAt(number));
        return new LogPart(number, count, from.Byte, to.Byte, from.LastRawS);
    }

    /// <summary>Reads the first rows of a log, which all its parts need.</summary>
    /// <typeparam name="TSink">Where samples go.</typeparam>
    /// <param name="log">The log.</param>
    /// <param name="options">What is stated about it.</param>
    /// <param name="part">The part that is read next; rows that are its own are not touched.</param>
    /// <param name="sink">Takes the samples.</param>
    /// <param name="cancellation">Stops the reading.</param>
    /// <returns>What was counted; its first offset is that of the log.</returns>
    public static PartOutcome ReadHead<TSink>(LogFile log, LogOptions options, LogPart part, ref TSink sink, CancellationToken cancellation)
        where TSink : struct, ISampleSink =>
        Read(log, options with { Strict = false, Parallel = false }, 0, Math.Min(HeadBytes, part.FromByte), null, ref sink, null,
            cancellation);

    /// <summary>Reads a part.</summary>
    /// <typeparam name="TSink">Where samples go.</typeparam>
    /// <param name="log">The log.</param>
    /// <param name="options">What is stated about it.</param>
    /// <param name="part">The part.</param>
    /// <param name="offsetS">What turns the time of the log's first row as read into zero; of no use for the first part. [s]</param>
    /// <param name="sink">Takes the samples.</param>
    /// <param name="bytesRead">Told how many bytes of the part have been read.</param>
    /// <param name="cancellation">Stops the reading.</param>
    /// <exception cref="InputException">The part cannot be used.</exception>
    public static PartOutcome Read<TSink>(LogFile log, LogOptions options, LogPart part, double offsetS, ref TSink sink,
        IProgress<long>? bytesRead, CancellationToken cancellation)
        where TSink : struct, ISampleSink
    {
        if (part.FromByte == 0)
        {
            return Read(log, options, 0, part.ToByte, null, ref sink, bytesRead, cancellation);
        }

        try
        {
            return Read(log, options, part.FromByte, part.ToByte, new PartStart(0, offsetS, part.LastRawS), ref sink, bytesRead,
                cancellation);
        }
        catch (InputException)
        {
            // The sentence names a line, and only now is it worth counting those before.
            var start = new PartStart(LinesBefore(log, options, part), offsetS, part.LastRawS);
            TSink nobody = sink;
            Read(log, options, part.FromByte, part.ToByte, start, ref nobody, null, cancellation);
            throw;
        }
    }

    /// <summary>What was counted in the whole log.</summary>
    /// <param name="path">The log's name.</param>
    /// <param name="options">What is stated about it.</param>
    /// <param name="parts">Its parts, in order.</param>
    /// <exception cref="InputException">Too many of its rows are bad.</exception>
    public static ReadOutcome Join(string path, LogOptions options, IReadOnlyList<PartOutcome> parts)
    {
        long lines = 0;
        var faults = new Dictionary<FaultKind, Fault>();
        var passedOver = new FaultTally[parts[0].PassedOver.Count];
        foreach (var part in parts)
        {
            foreach (var fault in part.Outcome.Faults)
            {
                var own = new FaultTally(fault.FirstLine, fault.LastLine, fault.Count).Shifted(lines);
                faults[fault.Kind] = faults.TryGetValue(fault.Kind, out var before)
                    ? FaultTally.Join(new FaultTally(before.FirstLine, before.LastLine, before.Count), own)
                        .ToFault(fault.Kind, before.Detail)
                    : own.ToFault(fault.Kind, fault.Detail);
            }

            for (int i = 0; i < passedOver.Length; i++)
            {
                passedOver[i] = FaultTally.Join(passedOver[i], part.PassedOver[i].Shifted(lines));
            }

            lines += part.Lines;
        }

        var outcome = new ReadOutcome(
            parts.Sum(p => p.Outcome.Rows),
            parts.Sum(p => p.Outcome.RowsSkipped),
            parts.Sum(p => p.Outcome.Bytes),
            [.. faults.Values.OrderBy(f => f.FirstLine).ThenBy(f => f.Kind)],
            FileHash.Joined(parts.Select(p => p.Outcome.Sha256)))
        {
            Notes = OddRows.NotesOf(passedOver, parts[0].Held),
        };
        TextRows.Judge(path, outcome, parts.Sum(p => p.Incomplete), options);
        return outcome;
    }

    private static LogSource SourceOf(LogFile log, LogOptions options)
    {
        var source = LogSource.Find(log.Names[0], options, log.Layout.Spool, PipedLog.Look, log.Layout.Unpacked);
        (source.Reshape, source.ReshapeFrom) = (log.Layout.Reshape, log.Layout.ReshapeFrom);
        return source;
    }

    private static PartOutcome Read<TSink>(LogFile log, LogOptions options, long fromByte, long toByte, PartStart? start, ref TSink sink,
        IProgress<long>? bytesRead, CancellationToken cancellation)
        where TSink : struct, ISampleSink
    {
        var source = SourceOf(log, options);
        var before = FileState.Of(source);
        using var tap = new TapStream(new RangeStream(source.OpenRaw(), fromByte, toByte), null, bytesRead, cancellation);
        using var text = log.Layout.Plan!.Encoding.ToUtf8(tap);
        var read = TextRows.ReadPart(source, tap, text, log.Layout, options, start, ref sink);
        return FileState.Of(source) == before ? read : throw LogErrors.Changed(source.Path);
    }

    private static long LinesBefore(LogFile log, LogOptions options, LogPart part)
    {
        using var stream = new RangeStream(SourceOf(log, options).OpenRaw(), 0, part.FromByte);
        byte[] block = new byte[1 << 17];
        long lines = 0;
        int read;
        while ((read = stream.Read(block)) > 0)
        {
            lines += block.AsSpan(0, read).Count((byte)'\n');
        }

        return lines;
    }
}
