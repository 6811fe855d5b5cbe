using ChargeAudit.Logs;
using ChargeAudit.Logs.Layout;
using ChargeAudit.Measuring.Integration;
using ChargeAudit.Measuring.Segmentation;
using ChargeAudit.Metrology;

namespace ChargeAudit.Measuring;

/// <summary>What a careful reader of one log would doubt, in plain sentences.</summary>
internal static class LogDoubts
{
    // A step of less than a hundredth of the least mean power is nothing to doubt.
    private const double FinestSharePerStep = 100;

    public static IEnumerable<string> Of(
        LogSummary summary, LogLayout layout, EnergyEstimator energies, IReadOnlyList<ModeResult> modes, MeasuringPoint? point)
    {
        if (energies.CoarseStepW is > 0 and var step && modes.Any(m => m.MeanPower.Value?.Value < FinestSharePerStep * step))
        {
            bool carriesStandby = modes.All(m => m.Span.Mode == Mode.Charge || m.MeanPower.Value?.Value > 5 * step);
            yield return carriesStandby
                ? Prose.Of(
                    $"Readings come in steps of {step:G3} W and stay in them; that error does not average out and is in the interval.")
                : Prose.Of(
                    $"Readings come in steps of {step:G3} W and stay in them, so this log gives no stand-by power: anything below about "
                    + $"{step:G3} W may be true. Use a meter with finer steps, or let its energy counter run for a day.");
        }

        foreach (string figure in ZeroFigures(energies, modes))
        {
            yield return $"{figure} is not distinguishable from zero by this meter's stated "
                + $"accuracy{(summary.Rules.FlowsOneWay ? "; its interval ends at zero, as power flows one way only here" : "")}.";
        }

        if (CosineDoubt.Sentence(layout, summary.Rules.Source) is { } cosine)
        {
            yield return cosine;
        }

        double covered = summary.CoveredS.Value;
        double bridged = summary.Gaps.TotalS;
        if (summary.Rules.Gaps == GapPolicy.Bridge && bridged > 0.01 * covered)
        {
            yield return Prose.Of($"{100 * bridged / covered:F0} % of the time lies in gaps that nobody measured. Measure again "
                + $"if that is much.");
        }

        if (summary.WithoutPower > 0)
        {
            yield return InvariantText.Of($"{summary.WithoutPower} rows give no power and were passed over.");
        }

        if (summary.Rules.Source == PowerSource.DirectCurrentProduct
            && summary.Rules.Samples is SampleKind.AverageEnding or SampleKind.AverageStarting)
        {
            yield return "Power is the product of averaged voltage and averaged current; where the current comes in pulses that is not the "
                + "mean power, and the interval allows for it.";
        }

        // A counter misses nothing between two readings.
        if (summary.Rules.Samples == SampleKind.Instantaneous && summary.Rules.Source != PowerSource.EnergyCounter
            && layout.MedianIntervalS > 2 && modes.Any(m => m.Span.Mode is Mode.NoLoad or Mode.Maintenance))
        {
            yield return Prose.Of(
                $"One instantaneous reading every {layout.MedianIntervalS:G3} s can miss the short pulses of a waiting charger, or hit too "
                + $"many of them. Log faster, or with a meter that averages or counts energy.");
        }

        foreach (string doubt in CounterDoubts.Of(summary))
        {
            yield return doubt;
        }

        if (point is null)
        {
            yield return "Where this meter sat is not stated; give its point, here or in a study.";
        }
    }

    private static IEnumerable<string> ZeroFigures(EnergyEstimator energies, IReadOnlyList<ModeResult> modes)
    {
        if (ZeroCut.ReachesZero(energies.EnergyWh(double.NegativeInfinity, double.PositiveInfinity)))
        {
            yield return "The energy of the whole log";
        }

        foreach (var mode in modes.Where(m => m.Span.Mode is Mode.NoLoad or Mode.Maintenance && m.MeanPower.Value is { } mean
            && ZeroCut.ReachesZero(mean)))
        {
            yield return Prose.Of(
                $"The mean power {(mode.Span.Mode == Mode.NoLoad ? "while waiting" : "when full")} from {mode.Span.StartS:F0} to "
                + $"{mode.Span.EndS:F0} s");
        }
    }
}
