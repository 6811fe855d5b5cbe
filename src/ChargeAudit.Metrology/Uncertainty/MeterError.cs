namespace ChargeAudit.Metrology.Uncertainty;

/// <summary>How real power was obtained from the readings.</summary>
public enum PowerBasis
{
    /// <summary>A column of real power.</summary>
    PowerColumn,

    /// <summary>Voltage times current, on direct current.</summary>
    VoltageTimesCurrent,

    /// <summary>Voltage times current times power factor.</summary>
    VoltageTimesCurrentTimesPowerFactor,

    /// <summary>Apparent power times power factor.</summary>
    ApparentPowerTimesPowerFactor,

    /// <summary>The difference of an energy counter.</summary>
    EnergyCounter,
}

/// <summary>What a meter's stated accuracy brings to a figure.</summary>
/// <param name="Components">One per source, in the figure's coherent unit.</param>
/// <param name="UnknownBecause">Why the whole is not known, as a clause without a full stop; null where it is.</param>
public sealed record MeterErrors(IReadOnlyList<UncertaintyComponent> Components, string? UnknownBecause);

/// <summary>
/// A meter's errors carried into energy and charge. Gain and offset of each quantity are one source each, fully correlated over all samples
/// of all runs made
/// with that meter, so that they never average away and cancel where the same meter measured both sides of a ratio.
/// <i>Source:</i> JCGM 100:2008, 5.2.2 (full correlation) and F.1.2.4 (errors common to several readings).
/// </summary>
public static class MeterError
{
    /// <summary>Components of an energy. [J]</summary>
    /// <param name="meterName">Name of the meter in the study; null: no meter was named.</param>
    /// <param name="accuracies">What its data sheet states, per quantity.</param>
    /// <param name="sensitivities">The integrals of the log.</param>
    /// <param name="basis">How power was obtained.</param>
    /// <param name="resolutions">Steps of the readings as found in the log, for accuracies in digits. [coherent unit]</param>
    public static MeterErrors ForEnergy(
        string? meterName,
        IReadOnlyDictionary<LogQuantity, MeterAccuracy> accuracies,
        EnergySensitivities sensitivities,
        PowerBasis basis,
        IReadOnlyDictionary<LogQuantity, double>? resolutions = null)
    {
        var collector = new Collector(meterName, accuracies, sensitivities, resolutions);
        switch (basis)
        {
            case PowerBasis.PowerColumn:
                collector.Add(LogQuantity.Power, s => s.EnergyJ, s => s.DurationS);
                break;
            case PowerBasis.VoltageTimesCurrent:
            case PowerBasis.VoltageTimesCurrentTimesPowerFactor:
                collector.Add(LogQuantity.Voltage, s => s.EnergyJ, s => s.ChargeC * s.MeanPowerFactor);
                collector.Add(LogQuantity.Current, s => s.EnergyJ, s => s.VoltSeconds * s.MeanPowerFactor);
                break;
            case PowerBasis.ApparentPowerTimesPowerFactor:
                collector.Add(LogQuantity.ApparentPower, s => s.EnergyJ, s => s.DurationS * s.MeanPowerFactor);
                break;
            default:
                collector.AddCounter(LogQuantity.Energy, sensitivities.EnergyJ);
                break;
        }

        if (basis is PowerBasis.VoltageTimesCurrentTimesPowerFactor or PowerBasis.ApparentPowerTimesPowerFactor)
        {
            collector.Add(LogQuantity.PowerFactor, s => s.EnergyJ, s => s.ApparentJ);
        }

        if (basis != PowerBasis.EnergyCounter)
        {
            collector.AddClock(sensitivities.EnergyJ);
        }

        return collector.Result();
    }

    /// <summary>Components of a charge integrated from current. [C]</summary>
    /// <inheritdoc cref="ForEnergy"/>
    public static MeterErrors ForCharge(
        string? meterName,
        IReadOnlyDictionary<LogQuantity, MeterAccuracy> accuracies,
        EnergySensitivities sensitivities,
        IReadOnlyDictionary<LogQuantity, double>? resolutions = null)
    {
        var collector = new Collector(meterName, accuracies, sensitivities, resolutions);
        collector.Add(LogQuantity.Current, s => s.ChargeC, s => s.DurationS);
        collector.AddClock(sensitivities.ChargeC);
        return collector.Result();
    }

    private sealed class Collector(
        string? meterName,
        IReadOnlyDictionary<LogQuantity, MeterAccuracy> accuracies,
        EnergySensitivities whole,
        IReadOnlyDictionary<LogQuantity, double>? resolutions)
    {
        private readonly List<UncertaintyComponent> _components = [];
        private readonly List<string> _unknown = [];
        private readonly List<LogQuantity> _missed = [];

        private string Subject => meterName is null ? "the meter is not named" : $"meter {meterName}";

        internal void Add(LogQuantity quantity, Func<EnergySensitivities, double> byGain, Func<EnergySensitivities, double> byOffset)
        {
            if (!accuracies.TryGetValue(quantity, out var accuracy))
            {
                _missed.Add(quantity);
                return;
            }

            var (gain, offset) = HalfWidths(accuracy, Step(accuracy), byGain, byOffset);
            var moves = accuracy.Stability is { } stability
                ? HalfWidths(stability, stability.Resolution ?? Step(accuracy), byGain, byOffset)
                : (0, 0);
            Put(accuracy, SourceKind.MeterGain, gain, moves.Gain);
            if (offset is null || moves.Offset is null)
            {
                _unknown.Add($"{Subject} states its {Words(quantity)} in digits and their size is not known");
                return;
            }

            Put(accuracy, SourceKind.MeterOffset, offset.Value, moves.Offset.Value);
        }

        // Clauses of one quantity err together: a meter that reads high by its whole gain error below the limit does so above it.
        private (double Gain, double? Offset) HalfWidths(
            MeterAccuracy accuracy, double? step, Func<EnergySensitivities, double> byGain, Func<EnergySensitivities, double> byOffset)
        {
            var parts = accuracy.Clauses.Select(c => (Relative: c.RelativeHalfWidth, Fixed: c.FixedPart(step), Part: whole)).ToList();
            if (accuracy.Clauses.Count > 1)
            {
                parts = Split(accuracy, parts);
            }

            return (
                parts.Sum(p => p.Relative * byGain(p.Part)),
                parts.Any(p => p.Fixed is null) ? null : parts.Sum(p => p.Fixed!.Value * byOffset(p.Part)));
        }

        internal void AddCounter(LogQuantity quantity, double energyJ)
        {
            if (!accuracies.TryGetValue(quantity, out var accuracy))
            {
                _missed.Add(quantity);
                return;
            }

            Put(accuracy, SourceKind.MeterGain, GainOf(accuracy) * energyJ, GainOf(accuracy.Stability) * energyJ);
            double?[] fixedParts = [.. accuracy.Clauses.Select(c => c.FixedPart(Step(accuracy)))];
            if (fixedParts.Contains(null))
            {
                _unknown.Add($"{Subject} states its {Words(quantity)} in digits and their size is not known");
                return;
            }

            // A lasting offset cancels in a difference of two readings; what is left is the error of each reading by itself.
            double each = accuracy.StandardPerHalfWidth * fixedParts.Max()!.Value;
            if (each > 0)
            {
                _components.Add(new(InfluenceSource.OfLog(whole.LogId, SourceKind.CounterReading, "counter-first", accuracy.Shape), -each));
                _components.Add(new(InfluenceSource.OfLog(whole.LogId, SourceKind.CounterReading, "counter-last", accuracy.Shape), each));
            }
        }

        internal void AddClock(double amount)
        {
            if (accuracies.TryGetValue(LogQuantity.Time, out var clock))
            {
                Put(clock, SourceKind.Clock, GainOf(clock) * amount, GainOf(clock.Stability) * amount);
            }
        }

        private static string Called(string name) => name.EndsWith("meter", StringComparison.OrdinalIgnoreCase) ? name : $"meter {name}";

        private static double GainOf(MeterAccuracy? accuracy) => accuracy?.Clauses.Max(c => c.RelativeHalfWidth) ?? 0;

        internal MeterErrors Result()
        {
            if (_missed.Count > 0)
            {
                string what = string.Join(" and ", _missed.Distinct().Select(Words));
                _unknown.Insert(0, meterName is null
                    ? $"no meter is named, so its accuracy of {what} is not known"
                    : $"the accuracy of {Called(meterName)} for {what} is not stated");
            }

            return new(_components, _unknown.Count == 0 ? null : string.Join("; ", _unknown));
        }

        private List<(double Relative, double? Fixed, EnergySensitivities Part)> Split(
            MeterAccuracy accuracy, List<(double Relative, double? Fixed, EnergySensitivities Part)> parts)
        {
            if (whole.Below is null)
            {
                double? widest = parts.Any(p => p.Fixed is null) ? null : parts.Max(p => p.Fixed);
                return [(parts.Max(p => p.Relative), widest, whole)];
            }

            var split = new List<(double Relative, double? Fixed, EnergySensitivities Part)>();
            EnergySensitivities? before = null;
            for (int i = 0; i < parts.Count; i++)
            {
                var upTo = accuracy.Clauses[i].Below is { } limit ? whole.Below(accuracy.Quantity, limit) : whole;
                split.Add((parts[i].Relative, parts[i].Fixed, before is null ? upTo : upTo.Minus(before)));
                before = upTo;
            }

            return split;
        }

        private double? Step(MeterAccuracy accuracy) =>
            accuracy.Resolution ?? (resolutions is not null && resolutions.TryGetValue(accuracy.Quantity, out double step) ? step : null);

        // The error is a lasting part, which another audit with this meter meets again, and one of this audit: the parts of two audits
        // differ by the stability.
        private void Put(MeterAccuracy accuracy, SourceKind kind, double halfWidth, double moves)
        {
            if (halfWidth != 0)
            {
                string part = kind switch
                {
                    SourceKind.Clock => "clock",
                    SourceKind.MeterGain => Id(accuracy.Quantity) + "-gain",
                    _ => Id(accuracy.Quantity) + "-offset",
                };
                var source = InfluenceSource.OfMeter(meterName ?? "unnamed", kind, part, accuracy.Shape);
                double all = accuracy.StandardPerHalfWidth * halfWidth;
                double now = Math.Min(Math.Abs(all), Math.Abs((accuracy.Stability?.StandardPerHalfWidth ?? 0) * moves) / Math.Sqrt(2));
                double lasting = Math.Sqrt(Math.Max(0, (all * all) - (now * now)));
                if (lasting > 0)
                {
                    _components.Add(new(source, Math.CopySign(lasting, all)));
                }

                if (now > 0)
                {
                    var own = InfluenceSource.OfMeter(meterName ?? "unnamed", kind, part + "-of-this-audit", accuracy.Stability!.Shape);
                    _components.Add(new(own with { Shared = false }, Math.CopySign(now, all)));
                }
            }
        }

        private static string Id(LogQuantity quantity) => StableName.Of(quantity);

        private static string Words(LogQuantity quantity) => Id(quantity).Replace('-', ' ');
    }
}
