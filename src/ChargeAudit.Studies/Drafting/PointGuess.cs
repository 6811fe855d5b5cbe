using ChargeAudit.Logs;
using ChargeAudit.Measuring;
using ChargeAudit.Measuring.Integration;
using ChargeAudit.Metrology;

namespace ChargeAudit.Studies.Drafting;

/// <summary>Where a meter sat, by what its log holds first and by the words of its name second.</summary>
/// <param name="Point">The point.</param>
/// <param name="Remarks">Why, and what speaks against it.</param>
internal sealed record PointGuess(MeasuringPoint Point, IReadOnlyList<DraftRemark> Remarks)
{
    /// <summary>Whether the user stated it; then it is kept.</summary>
    public bool Told { get; init; }

    /// <summary>The point that was stated when the log was summarized; null for a log, or where nothing was.</summary>
    /// <param name="log">What the log shows.</param>
    public static PointGuess? Stated(LogFacts log) =>
        log.Origin?.Said is { } said && LogSettings.PointOf(said) is { } point
            ? new PointGuess(point, [DraftRemark.Guess($"{PlainWords.At(point)}, as was stated when the log was summarized.")])
            { Told = true }
            : null;

    /// <summary>Decides for one log.</summary>
    /// <param name="log">What the log shows.</param>
    /// <param name="words">What its name says.</param>
    public static PointGuess Of(LogFacts log, NameWords words)
    {
        if (AlternatingBecause(log) is { } because)
        {
            return words.Point is null or MeasuringPoint.Wall
                ? Certain(MeasuringPoint.Wall, because)
                : Against(MeasuringPoint.Wall, because, words);
        }

        if (log.MeanVoltageV is { } volts)
        {
            string direct = Prose.Of($"it shows {volts:0.#} V on average and nothing of alternating current");
            return words.Point switch
            {
                null or MeasuringPoint.Usb => Certain(MeasuringPoint.Usb, direct),
                MeasuringPoint.Wall => Against(MeasuringPoint.Usb, direct, words),
                { } named =>
                    new PointGuess(named,
                    [DraftRemark.Guess($"{PlainWords.At(named)}, as the name says \"{words.PointWord}\", and {direct}.")]),
            };
        }

        if (words.Point is { } said)
        {
            return new PointGuess(said,
                [DraftRemark.Guess(
                    $"{PlainWords.At(said)}, as the name says \"{words.PointWord}\"; the log has no voltage column that would show it.")]);
        }

        string meter = log.Format == "espi"
            ? "Taken as measured at the wall: the log is the export of a utility's meter."
            : "Taken as measured at the wall socket: the log has no voltage column, and logs of plug-in meters usually have none.";
        return new PointGuess(MeasuringPoint.Wall,
        [
            DraftRemark.Guess(meter),
            DraftRemark.Question("Where did this meter sit: at the wall, at the adapter's output, at the device or at the battery?"),
        ]);
    }

    private static string? AlternatingBecause(LogFacts log)
    {
        if (log.MeanVoltageV > PowerRule.GreatestDirectVoltageV)
        {
            return Prose.Of($"{log.MeanVoltageV:0} V is mains voltage");
        }

        var sign = new[] { LogQuantity.PowerFactor, LogQuantity.ApparentPower, LogQuantity.Frequency }.Where(log.Quantities.Contains)
            .ToList();
        return sign.Count == 0 ? null : sign[0] switch
        {
            LogQuantity.PowerFactor => "it has a power factor, which only alternating current has",
            LogQuantity.ApparentPower => "it has apparent power, which only alternating current has",
            _ => "it has a frequency, which only alternating current has",
        };
    }

    private static PointGuess Certain(MeasuringPoint point, string because) =>
        new(point, [DraftRemark.Guess($"{PlainWords.At(point)}, as {because}.")]);

    private static PointGuess Against(MeasuringPoint point, string because, NameWords words) => new(point,
    [
        DraftRemark.Guess($"{PlainWords.At(point)}, as {because}."),
        DraftRemark.Question($"The name says \"{words.PointWord}\". Where did this meter sit?"),
    ]);
}
