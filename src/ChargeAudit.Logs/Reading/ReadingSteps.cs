using ChargeAudit.Logs.FirstLook;
using ChargeAudit.Logs.Layout;
using ChargeAudit.Metrology;

namespace ChargeAudit.Logs.Reading;

/// <summary>
/// Steps of readings that no log shows by itself. A charger that waits may give two different values in an hour, and two values are no
/// lattice; the same meter's log of a charge gives hundreds. So all logs of one meter are looked at together.
/// </summary>
public static class ReadingSteps
{
    /// <summary>Whether a log shows too few different values of a quantity to tell the steps of it.</summary>
    /// <param name="layout">The log.</param>
    public static bool NeedsOthers(LogLayout layout)
    {
        ArgumentNullException.ThrowIfNull(layout);
        return layout.Steps.Any(s => IsOfPower(s.Key) && s.Value.Lattice is null && s.Value.Different.Length > 0);
    }

    /// <summary>The layout with the steps that its meter's logs show together, where they are coarser than those that it shows
    /// itself.</summary>
    /// <param name="layout">The log.</param>
    /// <param name="ofMeter">All logs of the meter, this one among them or not.</param>
    public static LogLayout WithOthers(LogLayout layout, IEnumerable<LogLayout> ofMeter)
    {
        ArgumentNullException.ThrowIfNull(layout);
        ArgumentNullException.ThrowIfNull(ofMeter);
        var all = ofMeter.Prepend(layout).SelectMany(l => l.Parts.Count > 0 ? l.Parts : [l]).ToList();
        var steps = new Dictionary<LogQuantity, double>(layout.Resolution);
        foreach (var (quantity, own) in layout.Steps.Where(s => IsOfPower(s.Key) && s.Value.Lattice is null))
        {
            var evidence = all.Where(l => l.Steps.ContainsKey(quantity)).Select(l => l.Steps[quantity]).ToList();
            if (Lattice.Step(evidence.SelectMany(e => e.Different), evidence.Min(e => e.Printed)) is { } step && step > own.Step)
            {
                steps[quantity] = step;
            }
        }

        return layout with { Resolution = steps };
    }

    private static bool IsOfPower(LogQuantity quantity) =>
        quantity is LogQuantity.Power or LogQuantity.Voltage or LogQuantity.Current or LogQuantity.ApparentPower or LogQuantity.PowerFactor;
}
