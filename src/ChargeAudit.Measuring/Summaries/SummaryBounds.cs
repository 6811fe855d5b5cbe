using ChargeAudit.Logs.Reading;
using ChargeAudit.Measuring.Integration;

namespace ChargeAudit.Measuring.Summaries;

/// <summary>Refuses a summary that no reading of a log could have left, before anything is made of it.</summary>
internal static class SummaryBounds
{
    private const int WidestExponent = 40;
    private const long FurthestCell = 1L << 50;
    private const int MostFiles = 100_000;
    private const int MostMarked = 1 << 12;
    private const int MostWaiting = 4 * CounterTrail.MostWaiting;

    /// <summary>Checks it.</summary>
    /// <exception cref="InvalidDataException">It cannot be.</exception>
    public static void Check(SummaryDocument document, SummaryAbout about)
    {
        var state = document.State;
        var rules = state.Rules;
        Must(document.Outcomes.Count is > 0 and <= MostFiles && document.Outcomes.Count == about.Files.Count, "its files");
        Must(document.Outcomes.Select(o => o.Sha256).SequenceEqual(about.Files.Select(f => f.Sha256)), "its hashes");
        Must(state.Finished == document.Part is null, "its end");
        if (document.Part is { } part)
        {
            Check(part);
        }

        Must(document.Source == rules.Source && Enum.IsDefined(rules.Source), "its source of power");
        Must(rules.MedianIntervalS is > 0 and < 1e9 && !double.IsNaN(rules.GapThresholdS), "its interval between rows");
        Must(rules.IntervalS is >= 0 and < 1e9, "its interval of energy");
        Must(state.Marked.Count == rules.Marked.Count && state.Marked.Count <= MostMarked, "its damaged stretches");
        Must(state.Samples >= 0 && state.WithoutPower >= 0 && state.Dwelling >= 0, "its count of rows");
        Must(IsTime(state.First.TimeS) && IsTime(state.Last.TimeS) && state.First.TimeS <= state.Last.TimeS, "its first or last row");
        Must(state.Gaps.Longest.Count <= GapTally.Kept && state.Gaps.Count >= state.Gaps.Longest.Count
            && state.Gaps.Longest.All(g => IsTime(g.FromS) && IsTime(g.ToS)), "its gaps");
        Check(state.Envelope);
        Must(BetweenRows.For(rules) is null == state.BetweenRows is null, "what may have flowed between its rows");
        if (state.BetweenRows is { } between)
        {
            Check(between.Unseen);
        }

        if (state.Counter is { } counter)
        {
            Must(counter.Head.Count <= MostWaiting && counter.Waiting.Count <= MostWaiting
                && counter.Fold.Count >= 0 && counter.Fold.Gaps.Count <= GapTally.Kept, "its counter");
        }
    }

    private static void Check(SummaryPart part) => Must(
        part.Range is { Number: >= 1, FromByte: >= 0 } range && range.Number <= range.Count && range.FromByte <= range.ToByte
            && range.FromByte == 0 == (range.Number == 1)
            && part.Counts is { Lines: >= 0, Incomplete: >= 0, PassedOver.Count: OddRows.Kinds }
            && part.Counts.Outcome.Bytes == range.ToByte - range.FromByte, "its place in the log");

    private static void Check(EnvelopeState envelope) => Must(
        Math.Abs(envelope.Exponent) <= WidestExponent && Math.Abs(envelope.First) <= FurthestCell
            && envelope.Count is >= 0 and <= PowerEnvelope.MaxBuckets && Math.Abs(envelope.Anchor ?? 0) <= FurthestCell, "its cells");

    private static bool IsTime(double timeS) => Math.Abs(timeS) < 1e15;

    private static void Must(bool holds, string what)
    {
        if (!holds)
        {
            throw new InvalidDataException($"{what} cannot be");
        }
    }
}
