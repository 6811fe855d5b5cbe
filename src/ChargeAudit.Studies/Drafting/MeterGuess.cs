using ChargeAudit.Logs;
using ChargeAudit.Metrology;

namespace ChargeAudit.Studies.Drafting;

/// <summary>Which logs one meter wrote: one meter a measuring point, unless the logs there are written in different ways.</summary>
/// <param name="Meters">The meters, those nearest the wall first.</param>
/// <param name="Names">Name of the meter of each point, dialect and guessed order of dates.</param>
internal sealed record MeterGuess(
    IReadOnlyList<DraftMeter> Meters, IReadOnlyDictionary<(MeasuringPoint Point, string Dialect, DateOrder? Order), string> Names)
{
    private static readonly LogQuantity[] Stated =
        [LogQuantity.Power, LogQuantity.Voltage, LogQuantity.Current, LogQuantity.PowerFactor, LogQuantity.Energy];

    /// <summary>The meter of a log.</summary>
    public string NameOf(PlacedLog log) => Names[KeyOf(log)];

    /// <summary>Groups logs by meter.</summary>
    public static MeterGuess Of(IReadOnlyList<PlacedLog> logs)
    {
        var meters = new List<DraftMeter>();
        var names = new Dictionary<(MeasuringPoint, string, DateOrder?), string>();
        foreach (var atPoint in logs.GroupBy(l => l.Point.Point).OrderBy(g => g.Key))
        {
            var kinds = atPoint.GroupBy(KeyOf).ToList();
            for (int i = 0; i < kinds.Count; i++)
            {
                string name = i == 0
                    ? $"{StudyWords.Of(atPoint.Key)}-meter"
                    : InvariantText.Of($"{StudyWords.Of(atPoint.Key)}-meter-{i + 1}");
                names.Add(kinds[i].Key, name);
                meters.Add(Meter(name, atPoint.Key, [.. kinds[i]], kinds.Count));
            }
        }

        return new MeterGuess(meters, names);
    }

    private static (MeasuringPoint Point, string Dialect, DateOrder? Order) KeyOf(PlacedLog log) =>
        (log.Point.Point, log.Facts.Dialect, log.Facts.GuessedDateOrder);

    private static DraftMeter Meter(string name, MeasuringPoint point, List<PlacedLog> logs, int atPoint)
    {
        var remarks = logs.SelectMany(l => l.Point.Remarks).Distinct().ToList();
        if (atPoint > 1)
        {
            remarks.Add(
                DraftRemark.Guess($"a meter of its own: its logs are written in another way than others {PlainWords.At(point)}."));
        }

        var first = logs[0].Facts;
        if (first.GuessedDateOrder is { } order)
        {
            remarks.Add(
                DraftRemark.Question(
                    $"No date in {first.File} tells whether day or month comes first. Is it "
                + $"{(order == DateOrder.DayFirst ? "the day" : "the month")}?"));
        }

        var quantities = Stated.Where(q => logs.Exists(l => l.Facts.Quantities.Contains(q))).ToList();

        // Where a log gives power itself, voltage and current beside it are not what the energy comes from.
        if (quantities.Contains(LogQuantity.Power))
        {
            quantities = [.. quantities.Where(q => q is LogQuantity.Power or LogQuantity.Energy)];
        }

        return new DraftMeter(name, point, [.. quantities.Select(WordOf)], remarks)
        {
            DateOrder = first.GuessedDateOrder,
            Told = first.Told,
            LocalTimes = logs.Exists(l => l.Facts.StartIsLocal),
        };
    }

    private static string WordOf(LogQuantity quantity) => StudyWords.Quantities.First(w => StudyWords.Quantity(w) == quantity);
}
