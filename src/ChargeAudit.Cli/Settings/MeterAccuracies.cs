using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Metrology.Uncertainty;
using ChargeAudit.Studies;

namespace ChargeAudit.Cli.Settings;

/// <summary>A meter's accuracy as a user states it outside a study: a text for each quantity, such as <c>voltage=0.05 % + 2 mV</c>.
/// </summary>
internal static class MeterAccuracies
{
    private static readonly string[] Measured =
        [.. StudyWords.Quantities.Where(w => StudyWords.Quantity(w) is not (LogQuantity.Time or LogQuantity.Date or LogQuantity.Clock))];

    /// <summary>Reads them.</summary>
    /// <param name="texts">The texts.</param>
    /// <param name="fault">What is wrong with one of them, with what was found; null where nothing is.</param>
    public static Dictionary<LogQuantity, MeterAccuracy> Read(IEnumerable<string> texts, out string? fault)
    {
        var accuracy = new Dictionary<LogQuantity, MeterAccuracy>();
        fault = null;
        foreach (string text in texts)
        {
            int equals = text.IndexOf('=', StringComparison.Ordinal);
            string word = equals > 0 ? text[..equals].Trim() : "";
            if (StudyWords.Quantity(word) is not { } quantity)
            {
                fault = word.Length == 0
                    ? $"\"{text}\"; a quantity and its accuracy were expected, such as \"voltage=0.05 % + 2 mV\""
                    : $"\"{text}\", and {word} is no quantity; "
                        + (NearestWord.Of(word, Measured) is { } near ? $"did you mean {near}? " : "")
                        + $"One of {string.Join(", ", Measured)} was expected";
            }
            else if (accuracy.TryGetValue(quantity, out var before))
            {
                fault = $"\"{text}\", and {word} has the accuracy \"{before.Text}\" already; one for each quantity was expected, so leave "
                    + "one of them out";
            }
            else if (MeterAccuracy.TryParse(text[(equals + 1)..].Trim(), quantity, out var read, out string? wrong))
            {
                accuracy[quantity] = read;
                continue;
            }
            else
            {
                fault = $"\"{text}\": {wrong}";
            }

            break;
        }

        return accuracy;
    }

    /// <summary>What is wrong with one of the texts; null where nothing is.</summary>
    public static string? Fault(IReadOnlyCollection<string> texts)
    {
        if (texts.Count == 0)
        {
            return "a quantity and its accuracy were expected, such as \"voltage=0.05 % + 2 mV\"";
        }

        Read(texts, out string? fault);
        return fault is null ? null : $"of it {fault}";
    }
}
