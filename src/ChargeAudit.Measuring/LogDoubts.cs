using ChargeAudit.Logs;
using ChargeAudit.Logs.Layout;
using ChargeAudit.Logs.Reading;
using ChargeAudit.Measuring.Integration;
using ChargeAudit.Measuring.Segmentation;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;

namespace ChargeAudit.Measuring;

/// <summary>What a careful reader would doubt about one log, in plain sentences.</summary>
internal static class LogDoubts
{
    // A step of less than a hundredth of the least mean power is nothing to doubt.
    private const double FinestSharePerStep = 100;

    // The most that a supply gives over USB is 48 V and 5 A (USB Power Delivery 3.1, from memory), and an inductive pad far less; at the
    // plug a supply takes some more.
    private const double MostUsbW = 240;
    private const double MostWallW = 300;
    private const double LeastAboveS = 20;

    public static IEnumerable<Doubt> Of(
        LogSummary summary, LogLayout layout, EnergyEstimator energies, IReadOnlyList<ModeResult> modes, MeasuringPoint? point)
    {
        if (energies.CoarseStepW is > 0 and var step && modes.Any(m => m.MeanPower.Value?.Value < FinestSharePerStep * step))
        {
            bool carriesStandby = modes.All(m => m.Span.Mode == Mode.Charge || m.MeanPower.Value?.Value > 5 * step);
            yield return new Doubt(Gravity.Wide, carriesStandby
                ? Prose.Of(
                    $"Readings come in steps of {step:G3} W and stay in them; that error does not average out and is in the interval.")
                : Prose.Of(
                    $"Readings come in steps of {step:G3} W and stay in them, so this log gives no stand-by power: anything below about "
                    + $"{step:G3} W may be true. Use a meter with finer steps, or let its energy counter run for a day."));
        }

        double mostW = point == MeasuringPoint.Wall ? MostWallW : MostUsbW;
        if (AboveS(energies.Envelope, mostW) is var aboveS && aboveS > Math.Max(LeastAboveS, 2 * layout.MedianIntervalS))
        {
            yield return new Doubt(Gravity.Wrong, Prose.Of(
                $"Power is above {mostW:0} W for {aboveS:0} s, and no supply of a phone gives so much: the unit of a column is probably "
                + $"another one, or changes within the log."));
        }

        foreach (string figure in ZeroFigures(energies, modes))
        {
            yield return new Doubt(Gravity.Wide, $"{figure} is not distinguishable from zero by this meter's stated "
                + $"accuracy{(summary.Rules.FlowsOneWay ? "; its interval ends at zero, as power flows one way only here" : "")}.");
        }

        if (CosineDoubt.Sentence(layout, summary.Rules.Source) is { } cosine)
        {
            yield return cosine;
        }

        double covered = summary.CoveredS.Value;
        double bridged = summary.Gaps.TotalS;
        if (summary.Rules.Gaps == GapPolicy.Bridge && bridged > 0.01 * covered)
        {
            yield return new Doubt(Gravity.Wide,
                Prose.Of($"{100 * bridged / covered:F0} % of the time lies in gaps, where nothing was measured. If that is a large part, "
                    + $"measure again."));
        }

        if (summary.WithoutPower > 0)
        {
            yield return new Doubt(Gravity.Reading, InvariantText.Of($"{summary.WithoutPower} rows give no power and were passed over."));
        }

        if (summary.Rules.Source == PowerSource.DirectCurrentProduct
            && summary.Rules.Samples is SampleKind.AverageEnding or SampleKind.AverageStarting)
        {
            yield return new Doubt(Gravity.Wide,
                "Power is the product of averaged voltage and averaged current. Where the current comes in pulses that is not the mean "
                + "power; the interval allows for it.");
        }

        // A counter misses nothing between two readings.
        if (summary.Rules.Samples == SampleKind.Instantaneous && summary.Rules.Source != PowerSource.EnergyCounter
            && layout.MedianIntervalS > 2 && modes.Any(m => m.Span.Mode is Mode.NoLoad or Mode.Maintenance))
        {
            yield return Prose.Of(
                $"One instantaneous reading every {layout.MedianIntervalS:G3} s can miss the short pulses of a waiting charger, or hit too "
                + $"many of them. Log faster, or with a meter that averages or counts energy.");
        }

        foreach (var doubt in CounterDoubts.Of(summary))
        {
            yield return doubt;
        }

        if (point is null)
        {
            yield return new Doubt(Gravity.Assumed, "Where this meter sat is not stated; give its point, here or in a study.");
        }
    }

    /// <summary>Choices that reading had to make: what a strict reading refuses may be wrong.</summary>
    public static IEnumerable<Doubt> OfReading(LogLayout layout, IEnumerable<ReadOutcome> outcomes) =>
        layout.Notes.Concat(outcomes.SelectMany(o => o.Notes))
            .Select(n => new Doubt(layout.Ambiguities.Contains(n) ? Gravity.Wrong : Gravity.Reading, n));

    private static double AboveS(PowerEnvelope envelope, double powerW)
    {
        double seconds = 0;
        for (int i = 0; i < envelope.Count; i++)
        {
            seconds += envelope[i].MeanPowerW > powerW ? envelope[i].CoveredS.Value : 0;
        }

        return seconds;
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
