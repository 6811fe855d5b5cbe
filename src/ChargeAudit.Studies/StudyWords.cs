using ChargeAudit.Logs;
using ChargeAudit.Metrology;

namespace ChargeAudit.Studies;

/// <summary>The words of the study file, for whoever takes the same words from elsewhere, such as a command line.</summary>
public static class StudyWords
{
    /// <summary>Words for measuring points.</summary>
    public static string[] Points => [.. MeterReader.Points.Select(p => p.Word)];

    /// <summary>Words for what a reading stands for.</summary>
    public static string[] SampleKinds => [.. MeterReader.SampleKinds.Select(k => k.Word)];

    /// <summary>Words for what is done with gaps.</summary>
    public static string[] GapPolicies => [.. MeterReader.GapPolicies.Select(p => p.Word)];

    /// <summary>Words for the sign of a log's current and power.</summary>
    public static string[] Signs => [.. MeterReader.Signs.Select(s => s.Word)];

    /// <summary>Words for the order of day and month.</summary>
    public static string[] DateOrders => [.. MeterReader.DateOrders.Select(o => o.Word)];

    /// <summary>Words for quantities.</summary>
    public static string[] Quantities => [.. MeterReader.Quantities.Select(q => q.Word)];

    /// <summary>The measuring point of a word; null where there is none.</summary>
    public static MeasuringPoint? Point(string word) => Find(MeterReader.Points, word);

    /// <summary>The sample kind of a word; null where there is none.</summary>
    public static SampleKind? SampleKind(string word) => Find(MeterReader.SampleKinds, word);

    /// <summary>The gap policy of a word; null where there is none.</summary>
    public static GapPolicy? GapPolicy(string word) => Find(MeterReader.GapPolicies, word);

    /// <summary>The sign of a word; null where there is none.</summary>
    public static FlowSign? Sign(string word) => Find(MeterReader.Signs, word);

    /// <summary>The order of day and month of a word; null where there is none.</summary>
    public static DateOrder? DateOrder(string word) => Find(MeterReader.DateOrders, word);

    /// <summary>The quantity of a word; null where there is none.</summary>
    public static LogQuantity? Quantity(string word) => Find(MeterReader.Quantities, word);

    /// <summary>The word of a measuring point.</summary>
    public static string Of(MeasuringPoint point) => MeterReader.WordOf(point);

    private static T? Find<T>((string Word, T Value)[] words, string word)
        where T : struct
    {
        foreach (var (known, value) in words)
        {
            if (known == word)
            {
                return value;
            }
        }

        return null;
    }
}
