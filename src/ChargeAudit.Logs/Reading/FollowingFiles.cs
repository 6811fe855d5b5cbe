using System.Globalization;
using ChargeAudit.Logs.Layout;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;

namespace ChargeAudit.Logs.Reading;

/// <summary>Joins files that follow one another in time into one log.</summary>
internal static class FollowingFiles
{
    public static LogLayout Inspect(IReadOnlyList<string> paths, LogOptions options)
    {
        ArgumentNullException.ThrowIfNull(paths);
        ArgumentOutOfRangeException.ThrowIfZero(paths.Count);
        List<LogLayout> parts = [];
        try
        {
            foreach (string path in paths)
            {
                parts.Add(LogReader.Inspect(path, options));
                if (!Quantities(parts[^1]).SetEquals(Quantities(parts[0])))
                {
                    throw LogErrors.OtherColumns(path, paths[0]);
                }
            }
        }
        catch
        {
            parts.ForEach(p => p.Close());
            throw;
        }

        return parts.Count == 1 ? parts[0] : parts[0] with
        {
            Parts = parts,
            ChangeThreshold = parts.Select(p => p.ChangeThreshold).Where(t => t is not null).MinBy(t => t!.Amount),
            RowsAbout = parts.Aggregate((long?)0, (sum, p) => sum + p.RowsAbout),
            Notes = [.. parts.SelectMany((p, i) => p.Notes.Select(n => $"{paths[i]}: {n}"))],
            Ambiguities = [.. parts.SelectMany((p, i) => p.Ambiguities.Select(n => $"{paths[i]}: {n}"))],
        };
    }

    public static IReadOnlyList<ReadOutcome> Read<TSink>(IReadOnlyList<string> paths, LogLayout layout, LogOptions options, ref TSink sink,
        IProgress<long>? bytesRead, CancellationToken cancellation)
        where TSink : struct, ISampleSink
    {
        ArgumentNullException.ThrowIfNull(paths);
        ArgumentNullException.ThrowIfNull(layout);
        if (layout.Parts.Count == 0)
        {
            return [LogReader.ReadInto(paths[0], layout, options, ref sink, bytesRead, cancellation)];
        }

        List<ReadOutcome> outcomes = [];
        var shift = new ShiftingSink<TSink>(ref sink);
        long bytesBefore = 0;
        for (int i = 0; i < paths.Count; i++)
        {
            LogLayout part = layout.Parts[i];
            bool timed = part.Start is not null && layout.Start is not null && part.StartIsLocal == layout.StartIsLocal;
            double startS = timed ? (part.Start!.Value - layout.Start!.Value).TotalSeconds : i > 0
                ? NextClockS(layout, part, shift.LastTimeS)
                : double.NaN;
            var joined = new JoiningSink<TSink>(shift.Inner, startS, shift.LastTimeS, part.MedianIntervalS, first: i == 0);
            ReadOutcome outcome = LogReader.ReadInto(paths[i], part, options, ref joined, Offset(bytesRead, bytesBefore), cancellation);
            shift.Inner = joined.Inner;
            shift.LastTimeS = joined.LastTimeS;
            bytesBefore += outcome.Bytes;
            outcomes.Add(Told(paths, i, outcome, joined, part, options));
        }

        sink = shift.Inner;
        return outcomes;
    }

    // Where clock times carry no date, a file begins at the next time that its clock shows after the end of the file before. A clock that
    // shows less than a minute earlier was set, or the files overlap: then nothing is known.
    private static double NextClockS(LogLayout first, LogLayout part, double endS)
    {
        const double DayS = 86_400;
        double afterS = (((part.ClockOfDayS - first.ClockOfDayS - endS) % DayS) + DayS) % DayS ?? double.NaN;
        return afterS > 0 && afterS < DayS - Math.Max(60, 5 * part.MedianIntervalS) ? endS + afterS : double.NaN;
    }

    private static HashSet<LogQuantity> Quantities(LogLayout layout) =>
        [.. layout.Columns.Select(c => c.Quantity).Where(q => q is >= LogQuantity.Voltage and <= LogQuantity.Charge)];

    private static ReadOutcome Told<TSink>(IReadOnlyList<string> paths, int index, ReadOutcome outcome, JoiningSink<TSink> joined,
        LogLayout part, LogOptions options)
        where TSink : struct, ISampleSink
    {
        if (index == 0)
        {
            return outcome;
        }

        string before = Path.GetFileName(paths[index - 1]);
        if (joined.Overlapping > 0)
        {
            var fault = new Fault(FaultKind.TimeBackwards, joined.FirstOverlapLine, joined.LastOverlapLine, joined.Overlapping,
                $"Rows lie before the end of {before}; they were left out, so that no time counts twice.");
            return With(outcome with { Rows = outcome.Rows - joined.Overlapping, RowsSkipped = outcome.RowsSkipped + joined.Overlapping },
                paths[index], fault, options);
        }

        if (joined.HoleS > part.GapThresholdS)
        {
            string hole = WrittenMarks.Number(joined.HoleS.ToString("0.###", CultureInfo.InvariantCulture));
            var fault = new Fault(FaultKind.Gap, joined.FirstLine, joined.FirstLine, 1,
                $"{hole} s lie between the end of {before} and the first row; they are treated as any gap.");
            return With(outcome, paths[index], fault, options);
        }

        return part.ClockOfDayS is not null && joined.Timed
            ? outcome with
            {
                Notes = [.. outcome.Notes,
                    $"The file holds no date: its first row was put at the next time that its clock shows after the end of {before}."],
            }
            : joined.Timed ? outcome : outcome with
            {
                Notes = [.. outcome.Notes, $"The file holds no date: its first row was put one median interval after the end of {before}."],
            };
    }

    private static ReadOutcome With(ReadOutcome outcome, string path, Fault fault, LogOptions options)
    {
        if (options.Strict)
        {
            throw LogErrors.StrictFault(path, fault);
        }

        // A kind has one entry for each file: rows out of order and rows that overlap are counted together, with both sentences.
        Fault? same = outcome.Faults.FirstOrDefault(f => f.Kind == fault.Kind);
        Fault joined = same is null
            ? fault
            : new Fault(fault.Kind, Math.Min(same.FirstLine, fault.FirstLine), Math.Max(same.LastLine, fault.LastLine), same.Count
                + fault.Count, $"{fault.Detail} {same.Detail}");
        return outcome with { Faults = [.. outcome.Faults.Where(f => f.Kind != fault.Kind).Append(joined).OrderBy(f => f.FirstLine)] };
    }

    private static OffsetProgress? Offset(IProgress<long>? progress, long before) => progress is null
        ? null
        : new OffsetProgress(progress, before);

    private sealed class OffsetProgress(IProgress<long> inner, long before) : IProgress<long>
    {
        public void Report(long value) => inner.Report(before + value);
    }

    private struct ShiftingSink<TSink>(ref TSink sink)
        where TSink : struct, ISampleSink
    {
        public TSink Inner = sink;
        public double LastTimeS = double.NaN;
    }
}
