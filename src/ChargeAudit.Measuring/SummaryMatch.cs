using ChargeAudit.Measuring.Integration;
using ChargeAudit.Measuring.Summaries;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;

namespace ChargeAudit.Measuring;

/// <summary>Whether a summary is what reading the log would give for a request: what was stated about the log, the steps of its readings
/// and the rules of summing must be the same.</summary>
internal static class SummaryMatch
{
    /// <summary>Why it is not; null where it is.</summary>
    /// <param name="request">The request, already completed where settings are taken over.</param>
    /// <param name="read">The summary.</param>
    /// <param name="takesOver">Whether what is not stated now stands as it was stated then.</param>
    public static string? WhyNot(MeasureRequest request, ReadLog read, bool takesOver)
    {
        var said = LogSettings.Of(request);
        var stored = read.From!.Said;
        foreach (string name in said.Keys.Union(stored.Keys).Order(StringComparer.Ordinal))
        {
            string? now = said.GetValueOrDefault(name), then = stored.GetValueOrDefault(name);
            if (now != then && !(now is null && takesOver && LogSettings.IsTakenOver(name)))
            {
                return $"{name} was {Told(then)} then and is {Told(now)} now";
            }
        }

        var layout = LogReading.WithSteps(request, read.Own);
        if (!Same(layout.Resolution, read.Resolution))
        {
            return "the meter's other logs show other steps of its readings";
        }

        var rules = LogReading.RulesOf(request, read.From.Files[0].Name, layout, LogReading.OptionsOf(request));
        if (request.Source is null && read.Source == PowerSource.EnergyCounter)
        {
            // The readings showed that the counter tells more.
            rules = rules with { Source = read.Source };
        }

        return rules with { Marked = read.Summary.Rules.Marked } == read.Summary.Rules
            ? null
            : "the meter's stated accuracy gives another limit to what counts as zero";
    }

    /// <summary>The refusal of a summary that was named itself; null where it stands for the log.</summary>
    /// <param name="request">The request, already completed.</param>
    /// <param name="read">The summary.</param>
    /// <param name="path">Its file.</param>
    public static InputException? RefusalOf(MeasureRequest request, ReadLog read, string path) =>
        WhyNot(request, read, takesOver: true) is { } why
            ? Refusal(request, read, $"{path}: the summary was made in another way: {why}")
            : null;

    /// <summary>A refusal that says what to do.</summary>
    /// <param name="request">The request.</param>
    /// <param name="read">The summary that does not stand for the log.</param>
    /// <param name="why">Why it does not.</param>
    public static InputException Refusal(MeasureRequest request, ReadLog read, string why)
    {
        var said = read.From!.Said;
        string log = read.From.Files[0].Name;
        string? point = LogReading.PointOf(request) is { } now && !said.ContainsKey(LogSettings.Point) ? StableName.Of(now) : null;
        string todo = point is not null ? $"summarize {log} again and state the point {point} for it"
            : request.Source is not null && !said.ContainsKey(LogSettings.PowerFrom)
            ? $"{log} is the log of a waiting charger and holds a counter beside its power, so an audit needs a summary by each, in one "
                + "folder; summarize the log for its study, which makes both"
            : "state the same again, or summarize the log anew with what is stated now";
        return new InputException(InputProblem.Unusable, $"{why}; {todo}")
        {
            Remedy = point is null ? Remedy.None : Remedy.Summarize,
            RemedyValue = point,
        };
    }

    private static string Told(string? text) => text is null ? "not stated" : $"\"{text}\"";

    /// <summary>Whether steps of readings are the same.</summary>
    public static bool Same(IReadOnlyDictionary<LogQuantity, double> a, IReadOnlyDictionary<LogQuantity, double> b) =>
        a.Count == b.Count && a.All(s => b.TryGetValue(s.Key, out double other) && other.Equals(s.Value));
}
