using ChargeAudit.Logs;
using ChargeAudit.Metrology.Repeats;
using ChargeAudit.Metrology.Statistics;
using ChargeAudit.Metrology.Uncertainty;
using ChargeAudit.Studies;

namespace ChargeAudit.Checking;

/// <summary>Takes one figure out of a design, with the runs behind it.</summary>
internal static class DesignFigures
{
    /// <summary>The figure; missing with the reason.</summary>
    /// <param name="method">The method.</param>
    /// <param name="point">Where.</param>
    /// <param name="figure">Which.</param>
    /// <param name="side">Mark for sources that the other design does not share: <c>baseline</c> or <c>candidate</c>.</param>
    /// <param name="repeatability">Scatter of a single run where one run shows none, as a share; null: not known. [1]</param>
    /// <param name="blockCancels">Whether the effect of the one block that all runs lie in is shared by the figure's reference, and so
    /// cancels.</param>
    public static (RunsFigure? Figure, string? WhyNot) Of(DesignMethod method, MeasuringPoint point, CheckedFigure figure, string side,
        double? repeatability, bool blockCancels = false)
    {
        var at = method.Points[point];
        var found = figure switch
        {
            CheckedFigure.EnergyPerCharge => at.EnergyPerCharge,
            CheckedFigure.NoLoadPower => at.NoLoadPower,
            CheckedFigure.MaintenancePower => at.MaintenancePower,
            CheckedFigure.ChargeDuration => Duration(method, point),
            CheckedFigure.PeakPower => Peak(method, point),
            _ => throw new ArgumentOutOfRangeException(nameof(figure), figure, "an overhead ratio needs its reference"),
        };
        return found.Value is { } value ? (WithRuns(Renamed(value, side), method, side, repeatability, blockCancels), null)
            : (null, found.WhyNot);
    }

    // What another study with the same equipment would meet again keeps its name, so that it cancels; everything else is this design's own.
    private static Measured Renamed(Measured m, string side) => Measured.From(
        m.Value,
        m.Unit,
        m.Components.Select(c => c.Source.Shared ? c : c with { Source = c.Source with { Design = side } }),
        m.UnknownBecause);

    private static IReadOnlyList<string>? BlocksOf(IEnumerable<DesignRun> runs) =>
        runs.Select(r => r.Block).ToList() is { Count: > 0 } blocks && !blocks.Contains(null) ? [.. blocks.OfType<string>()] : null;

    private static RunsFigure WithRuns(Measured m, DesignMethod method, string side, double? repeatability, bool blockCancels)
    {
        // Runs of one day agree better than days do; how days differ they do not tell.
        int? blocks = BlocksOf(method.Runs)?.Distinct(StringComparer.Ordinal).Count();
        bool oneBlock = blocks == 1 && !blockCancels;
        foreach (var c in m.Components)
        {
            if (!oneBlock && !c.Source.Shared && double.IsFinite(c.Source.DegreesOfFreedom) && c.Source.Kind == SourceKind.Repeatability)
            {
                return new RunsFigure(m, blocks > 1 ? blocks.Value : (int)Math.Round(c.Source.DegreesOfFreedom) + 1, c.Source)
                {
                    InBlocks = blocks > 1,
                };
            }
        }

        if (repeatability is not { } share)
        {
            return new RunsFigure(m, 1, null) { OneBlock = oneBlock };
        }

        // One for each method: two methods do not scatter together.
        var assumed = new InfluenceSource("assumed-repeatability")
        {
            Owner = SourceOwner.Method,
            OwnerName = method.Name,
            Kind = SourceKind.Repeatability,
            Design = side,
        };
        return new RunsFigure(m.Plus(new UncertaintyComponent(assumed, share * Math.Abs(m.Value))), 1, assumed) { OneBlock = oneBlock };
    }

    private static Figure Duration(DesignMethod method, MeasuringPoint point)
    {
        var seen = method.Runs.Where(r => r.Points.ContainsKey(point)).ToList();
        var runs = seen.Select(r => r.Points[point]).ToList();

        // Both borders of a charge lie anywhere within a row's interval, so no scatter is smaller than that.
        return FromRuns(
            [.. runs.Select(r => r.ChargeDurationS)], BlocksOf(seen), "s", InfluenceSource.ScatterOf(method.Name, "charge-duration"),
            runs.Count == 0 ? 0 : runs.Max(r => r.IntervalS) / Math.Sqrt(6), $"no run of {method.Name} was measured there",
            OfOneAudit(method, point, SourceKind.Clock));
    }

    private static Figure Peak(DesignMethod method, MeasuringPoint point)
    {
        var seen = method.Runs.Where(r => r.Points.ContainsKey(point)).ToList();
        var runs = seen.Select(r => r.Points[point]).ToList();
        return runs.Any(r => r.PeakPowerW is null)
            ? Figure.None($"several runs of {method.Name} share a log, so the greatest reading is not known run by run")
            : FromRuns(
                [.. runs.Select(r => r.PeakPowerW!.Value)], BlocksOf(seen), "W", InfluenceSource.ScatterOf(method.Name, "peak-power"),
                runs.Count == 0 ? 0 : runs.Max(r => r.PeakStepW ?? 0) / Math.Sqrt(12), $"no run of {method.Name} was measured there",
                OfOneAudit(method, point, SourceKind.MeterGain));
    }

    // The part of the error of a meter's gain or clock that belongs to this audit alone, as shares; taken from an energy, which holds it.
    private static List<UncertaintyComponent> OfOneAudit(DesignMethod method, MeasuringPoint point, SourceKind kind) =>
        method.Points.TryGetValue(point, out var at) && at.EnergyPerCharge.Value is { Value: > 0 } energy
            ? [
                .. energy.Components.Where(c => MeterStability.IsOfOneAudit(c) && c.Source.Kind == kind)
                    .Select(c => c with { SignedStandardUncertainty = c.SignedStandardUncertainty / energy.Value }),
            ]
            : [];

    // The error of a meter's gain, or of its clock, acts alike on both designs, since both were measured with it: what is left is the
    // scatter, and what moved in between.
    private static Figure FromRuns(
        double[] values, IReadOnlyList<string>? blocks, string unit, InfluenceSource source, double leastScatter, string none,
            List<UncertaintyComponent> moved)
    {
        if (values.Length == 0)
        {
            return Figure.None(none);
        }

        var sample = SampleStatistics.Of(values);
        IEnumerable<UncertaintyComponent> Of(double mean) => moved.Select(c => c with
        {
            SignedStandardUncertainty = c.SignedStandardUncertainty * mean,
        });
        if (values.Length == 1)
        {
            return Figure.Of(Measured.From(sample.Mean, unit, Of(sample.Mean)));
        }

        var grouped = blocks is null ? null : BlockScatter.Of(values, blocks);
        double mean = grouped?.Mean ?? sample.Mean;
        double least = leastScatter / Math.Sqrt(values.Length);
        double scatter = Math.Max(grouped is null ? sample.StandardErrorOfMean : Math.Sqrt(grouped.VarianceOfMean), least);
        var own = new UncertaintyComponent(source with { DegreesOfFreedom = grouped?.DegreesOfFreedom ?? values.Length - 1 }, scatter);
        return Figure.Of(Measured.From(mean, unit, [own, .. Of(mean)]));
    }
}
