using ChargeAudit.Metrology;
using static ChargeAudit.Comparing.Fairness.FairnessNotes;


namespace ChargeAudit.Comparing.Fairness;

/// <summary>
/// Charged in rooms that were not equally warm: battery, coils and a pad that slows down when hot depend on it. Id
/// <c>different-temperature</c>.
/// </summary>
internal sealed class TemperatureRule : IFairnessRule
{
    /// <summary>Difference below which nothing is said: common practice, no source; half of what IEC 62301 allows a room to stray (4.2,
    /// from memory). [K]</summary>
    internal const double ToleranceK = 2.5;

    public IEnumerable<FairnessNote> Judge(FairnessInput input)
    {
        foreach (var (reference, other) in input.Pairs)
        {
            var a = reference.Runs.Where(r => r.TemperatureC is not null).ToList();
            var b = other.Runs.Where(r => r.TemperatureC is not null).ToList();
            if (a.Count == 0 || b.Count == 0)
            {
                continue;
            }

            double x = a.Average(r => r.TemperatureC!.Value);
            double y = b.Average(r => r.TemperatureC!.Value);
            if (Math.Abs(y - x) > ToleranceK)
            {
                yield return new FairnessNote(
                    "different-temperature",
                    Prose.Of(
                        $"{other.Method.Name} was charged at {y:F1} °C and {reference.Method.Name} at {x:F1} °C on average. A warm "
                        + $"battery takes its charge with less loss, and a warm pad slows down sooner; charge by both methods in the same "
                        + $"room at the same temperature."),
                    Ids(a, b));
            }
        }
    }
}
