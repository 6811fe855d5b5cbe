using System.Text.Json;
using ChargeAudit.Logs;
using ChargeAudit.Logs.Layout;
using ChargeAudit.Logs.Reading;
using ChargeAudit.Measuring.Damage;
using ChargeAudit.Measuring.Integration;
using ChargeAudit.Measuring.Summaries;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;

namespace ChargeAudit.Measuring;

/// <summary>Reads a log in parts, each for itself and in any order, and joins them to what one reading gives, to the last bit.</summary>
public static class LogParts
{
    /// <summary>Greatest number of parts.</summary>
    public const int MostParts = 10_000;

    /// <summary>Summarizes a part of a log and adds it to the request's folder of summaries, unless it is there.</summary>
    /// <param name="request">The log and what is known of it, with a folder of summaries.</param>
    /// <param name="number">Which part, from 1.</param>
    /// <param name="count">How many parts there are.</param>
    /// <param name="cancellation">Stops the reading.</param>
    /// <returns>How the log was understood, and where its power comes from.</returns>
    /// <exception cref="InputException">The log cannot be used, or cannot be cut.</exception>
    public static (LogLayout Layout, PowerSource Source) Summarize(MeasureRequest request, int number, int count,
        CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(request);
        ArgumentNullException.ThrowIfNull(request.Summaries);
        ArgumentOutOfRangeException.ThrowIfNotEqual(number >= 1 && number <= count && count <= MostParts, true);
        var part = request.Summaries.FindPart(request, number, count) ?? Read(request, number, count, cancellation);
        return (part.Own, part.State.Rules.Source);
    }

    private static ReadPart Read(MeasureRequest request, int number, int count, CancellationToken cancellation)
    {
        var files = SummaryFolder.StatesOf(request);
        string file = (request.Names ?? request.Paths)[0];
        if (request.From is not null || request.To is not null)
        {
            throw LogErrors.NoParts(file, "only a stretch of it was asked for, and a part may hold none of it");
        }

        var options = LogReading.OptionsOf(request) with { ReadFollows = false };
        using var log = LogFile.Open(request.Paths, options);
        var range = PartReading.Find(log, options, number, count);
        var layout = LogReading.WithSteps(request, log.Layout);
        var rules = LogReading.RulesOf(request, file, layout, options);
        var sink = new IntegratingSink(new LogSummary.Builder(rules));
        double offsetS = 0;
        if (number > 1)
        {
            // Where the whole log begins decides how wide its cells come to be.
            var head = PartReading.ReadHead(log, options, range, ref sink, cancellation);
            if (head.Outcome.Rows == 0 || (rules.Source != PowerSource.EnergyCounter && sink.Summary.SoFar.Samples == 0))
            {
                throw LogErrors.NoParts(file, "none of its first rows gives power");
            }

            offsetS = head.FromOffsetS;
            sink = sink.ForLaterPiece(default);
        }

        var counts = PartReading.Read(log, options, range, offsetS, ref sink, null, cancellation);
        var read = new ReadPart(log.Layout, layout.Resolution, sink.Summary.SoFar.State(), new SummaryPart(range, counts));
        request.Summaries!.Add(request, read, files);
        return read;
    }

    /// <summary>Joins the parts of a log.</summary>
    /// <param name="request">The log and what is known of it.</param>
    /// <param name="parts">All of its parts, in order.</param>
    /// <exception cref="InputException">They do not belong together, or only the whole log tells what they hold.</exception>
    internal static ReadLog Join(MeasureRequest request, IReadOnlyList<ReadPart> parts)
    {
        string file = (request.Names ?? request.Paths)[0];
        CheckNeighbours(file, parts);
        var outcome = PartReading.Join(file, LogReading.OptionsOf(request), [.. parts.Select(p => p.Part.Counts)]);
        long lines = 0;
        LogSummary.Builder? whole = null;
        foreach (var part in parts)
        {
            var own = LogSummary.Builder.Of(part.State.Shifted(lines));
            lines += part.Part.Counts.Lines;
            if (whole is null)
            {
                whole = own;
            }
            else
            {
                whole.Join(own);
            }
        }

        var summary = whole!.Finish();
        var (layout, resolution) = (parts[0].Own, parts[0].Resolution);
        if (SecondLook.IsNeeded(outcome.Faults) || DamageFinder.Find(summary, layout with { Resolution = resolution }).Any())
        {
            throw LogErrors.NoParts(file, "its rows show damage, which takes a second look at all of them");
        }

        if (request.Source is null && CoarseReadings.YieldTo(summary))
        {
            throw LogErrors.NoParts(file, "its readings of power are coarser than the counter beside them, which takes a second look at "
                + "all of them");
        }

        return new ReadLog(layout, resolution, summary.Rules.Source, summary, [outcome]);
    }

    private static void CheckNeighbours(string file, IReadOnlyList<ReadPart> parts)
    {
        for (int i = 1; i < parts.Count; i++)
        {
            var (before, after) = (parts[i - 1].Part, parts[i].Part);
            string which = InvariantText.Of($"parts {i} and {i + 1} of {parts.Count}");
            if (before.Range.ToByte != after.Range.FromByte || before.Counts.LastRawS != after.Range.LastRawS
                || !Same(parts[i - 1], parts[i]))
            {
                throw new InputException(InputProblem.Unusable,
                    $"{file}: {which} are not of one state of the log; remove the one that is out of date and summarize that part again");
            }

            if (before.Counts.ToOffsetS != after.Counts.FromOffsetS)
            {
                throw LogErrors.NoParts(file, InvariantText.Of(
                    $"its clock was set in part {i}, and the parts after it cannot know by how much"));
            }
        }
    }

    private static bool Same(ReadPart a, ReadPart b)
    {
        static string Text(ReadPart part) => JsonSerializer.Serialize(part.Own, SummaryContext.Default.LogLayout);
        return Text(a) == Text(b) && SummaryMatch.Same(a.Resolution, b.Resolution)
            && a.State.Rules with { Marked = b.State.Rules.Marked } == b.State.Rules;
    }
}
