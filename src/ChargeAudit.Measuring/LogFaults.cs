using ChargeAudit.Logs;
using ChargeAudit.Logs.Layout;
using ChargeAudit.Measuring.Integration;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;

namespace ChargeAudit.Measuring;

/// <summary>Faults that show only in the course of the readings: gaps, resets, reversed flow, a counter that disagrees.</summary>
internal static class LogFaults
{
    public static IEnumerable<Fault> Of(LogSummary summary, LogLayout layout, Meter? meter, EnergyEstimator energies)
    {
        var faults = new List<Fault>();
        summary.GapFaults.Report(faults, FaultKind.Gap, Gaps(summary));
        summary.CounterResets.Report(faults, FaultKind.CounterReset,
            "the energy counter fell back to near zero; counting went on from there");
        summary.CounterFalls.Report(faults, FaultKind.CounterReset,
            "the energy counter fell to another level and went on from there; nothing was added for the fall");
        summary.CounterLeaps.Report(faults, FaultKind.CounterReading,
            "the energy counter leaps in one row by more than it rises anywhere else; the interval reaches from nothing to all of it");
        summary.BadCounterReadings.Report(faults, FaultKind.CounterReading,
            "readings of the energy counter off the track to which it came back; they were left out");
        if (summary.CounterIsUseless)
        {
            faults.Add(new Fault(FaultKind.CounterReset, summary.FirstLine, 0, 1,
                "the energy counter falls too often to be a counter; it was not used"));
        }

        summary.Reversed.Report(faults, FaultKind.Reversed,
            Prose.Of($"negative power: {summary.ReversedJ.Value / 3600:G3} Wh in intervals that touch it were left out"));
        summary.Implausible.Report(faults, FaultKind.Implausible,
            Prose.Of($"above {summary.Rules.ImplausibleAboveW:F0} W, more than any charger takes: the readings were left out"));
        if (Mismatch(summary, layout, meter, energies) is { } mismatch)
        {
            faults.Add(mismatch);
        }

        return faults;
    }

    private static string Gaps(LogSummary summary)
    {
        var gaps = summary.Gaps;
        if (gaps.Count == 0)
        {
            return "";
        }

        double longest = gaps.Longest.Max(g => g.LengthS);
        bool counter = gaps.Longest.Any(g => g.FromCounter);
        string done = summary.Rules.Gaps switch
        {
            GapPolicy.Bridge => counter
                ? "bridged, where possible by the energy counter"
                : "bridged by the straight line between the rows at their ends",
            _ => "left out",
        };
        string which = double.IsInfinity(summary.Rules.GapThresholdS)
            ? "the sensor was not available"
            : Prose.Of($"intervals over {summary.Rules.GapThresholdS:G3} s");
        return Prose.Of($"{which}, {gaps.TotalS:F0} s in all, the longest {longest:F0} s; {done}");
    }

    // The counter can differ from the integral by its own step at both ends and by what the data sheet allows both, and by all else that
    // makes the readings' energy uncertain.
    private static Fault? Mismatch(LogSummary summary, LogLayout layout, Meter? meter, EnergyEstimator energies)
    {
        if (summary.CounterUnitChangesAt is { } line)
        {
            return new Fault(FaultKind.CounterMismatch, line, line, 1,
                "the meter's counter rises by more than any charger takes, or falls to a thousandth: its unit changed, and it was "
                + "not used");
        }

        if (summary.Rules.Source == PowerSource.EnergyCounter || summary.CounterEnergyJ is not { } counted || counted <= 0)
        {
            return null;
        }

        double energy = summary.EnergyJ.Value;
        var whole = energies.EnergyWh(double.NegativeInfinity, double.PositiveInfinity);
        double step = double.IsFinite(summary.CounterStepJ)
            ? summary.CounterStepJ
            : layout.Resolution.GetValueOrDefault(LogQuantity.Energy, 0);
        var accuracy = meter?.Accuracy.GetValueOrDefault(LogQuantity.Energy);
        double allowed = (accuracy?.HalfWidthAt(energy, step) ?? (0.02 * energy)) + (2 * step)
            + (3 * 3600 * (whole.StandardUncertainty ?? 0));
        return energies.HasCounterBeside
            ? CounterChoice.Contradicts(whole) ? Told(summary, counted, energy, "the interval reaches from one to the other") : null
            : Math.Abs(energy - counted) <= allowed ? null : Told(summary, counted, energy, "the counter was not used");
    }

    private static Fault Told(LogSummary summary, double counted, double energy, string done) =>
        new(FaultKind.CounterMismatch, summary.FirstLine, 0, 1, Prose.Of(
        $"the meter's counter advanced by {counted / 3600:G5} Wh and its readings integrate to {energy / 3600:G5} Wh; {done}"));
}
