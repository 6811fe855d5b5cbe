using System.Collections.Concurrent;
using ChargeAudit.Logs;
using ChargeAudit.Logs.Layout;
using ChargeAudit.Measuring.Integration;
using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.Measuring;

/// <summary>
/// Energies of one log, each with all that makes it uncertain: the meter's stated accuracy, the scatter of readings, the steps of its readings, what may have happened
/// between rows and in gaps, where the mode's borders lie, and what the meter itself takes. Gives the same answers for ever; safe for several threads.
/// </summary>
public sealed class EnergyEstimator
{
    private const double JoulesPerWattHour = 3600;

    private readonly LogSummary _summary;
    private readonly LogLayout _layout;
    private readonly Meter? _meter;
    private readonly string? _meterName;
    private readonly Dictionary<MeterQuantity, MeterAccuracy> _accuracies;
    private readonly Dictionary<MeterQuantity, double> _steps;
    private readonly Lazy<double> _sustainedW;

    // Energy and mean power of a stretch are both asked for, and ordering its cells is most of their cost: whoever asks second waits for the first.
    private readonly ConcurrentDictionary<(double FromS, double ToS), Lazy<double>> _noiseW = new();

    /// <summary>Prepares the energies of a log.</summary>
    /// <param name="summary">Its finished summary.</param>
    /// <param name="layout">How it was understood.</param>
    /// <param name="meter">Its meter; null where nobody said.</param>
    /// <param name="logId">Name of the log, for the sources that are its own.</param>
    public EnergyEstimator(LogSummary summary, LogLayout layout, Meter? meter, string logId)
    {
        _summary = summary;
        _layout = layout;
        _meter = meter;
        _meterName = meter is { Accuracy.Count: > 0 } || meter is { Name: not "command-line" } ? meter?.Name : null;
        LogId = logId;
        _accuracies = MeterAccuracies.Of(meter);
        _steps = MeterAccuracies.Steps(layout);
        _sustainedW = new Lazy<double>(() => SustainedW(summary.Envelope));
    }

    /// <summary>Name of the log.</summary>
    public string LogId { get; }

    /// <summary>Energy between two times. [Wh]</summary>
    /// <param name="fromS">Start. [s]</param>
    /// <param name="toS">End. [s]</param>
    /// <param name="fromUncertaintyS">Standard uncertainty of the start. [s]</param>
    /// <param name="toUncertaintyS">Standard uncertainty of the end. [s]</param>
    /// <param name="part">What the stretch is, for the names of its own sources: <c>charge</c>, <c>whole</c> …</param>
    public Measured EnergyWh(double fromS, double toS, double fromUncertaintyS = 0, double toUncertaintyS = 0, string part = "whole")
    {
        var envelope = _summary.Envelope;
        bool whole = fromS <= envelope.OriginS && toS >= envelope.StartS(envelope.Count);
        double energyJ = whole ? _summary.EnergyJ.Value : envelope.EnergyBetweenJ(fromS, toS);
        var sensitivities = new EnergySensitivities
        {
            EnergyJ = energyJ,
            DurationS = envelope.CoveredBetweenS(fromS, toS),
            VoltSeconds = envelope.VoltSecondsBetween(fromS, toS),
            ChargeC = envelope.ChargeBetweenC(fromS, toS),
            ApparentJ = ApparentJ(fromS, toS),
            LogId = LogId,
            Below = (quantity, limit) => SensitivitiesBelow(fromS, toS, quantity, limit),
        };
        var stated = MeterError.ForEnergy(_meterName, _accuracies, sensitivities, Basis, _steps);
        var components = new List<UncertaintyComponent>(stated.Components);
        Own(components, SourceKind.Noise, $"{part}-noise", NoiseJ(fromS, toS));
        Own(components, SourceKind.Steps, $"{part}-steps", StepsJ(sensitivities), ErrorShape.Rectangular);
        Own(components, SourceKind.Sampling, $"{part}-between-rows", BetweenRowsJ(fromS, toS), ErrorShape.Rectangular);
        Own(components, SourceKind.Other, $"{part}-product-of-means", PulsedProduct.StandardJ(_summary, fromS, toS), ErrorShape.Rectangular);
        AddGaps(components, fromS, toS);
        Own(components, SourceKind.Edge, $"{part}-start", BorderJ(fromS, fromUncertaintyS));
        Own(components, SourceKind.Edge, $"{part}-end", BorderJ(toS, toUncertaintyS));
        AddBurden(components, fromS, toS);
        return ZeroCut.Of(Measured.From(energyJ, "J", components, stated.UnknownBecause).In("Wh", 1 / JoulesPerWattHour), _summary.Rules.FlowsOneWay);
    }

    /// <summary>Mean power between two times. [W]</summary>
    public Measured MeanPowerW(double fromS, double toS, string part)
    {
        double covered = _summary.Envelope.CoveredBetweenS(fromS, toS);
        return EnergyWh(fromS, toS, part: part).In("W", covered > 0 ? JoulesPerWattHour / covered : double.NaN);
    }

    /// <summary>Charge moved between two times, from the current. [Ah]</summary>
    public Measured ChargeAh(double fromS, double toS)
    {
        var envelope = _summary.Envelope;
        var sensitivities = new EnergySensitivities
        {
            EnergyJ = envelope.EnergyBetweenJ(fromS, toS),
            DurationS = envelope.CoveredBetweenS(fromS, toS),
            ChargeC = envelope.ChargeBetweenC(fromS, toS),
            LogId = LogId,
        };
        var stated = MeterError.ForCharge(_meterName, _accuracies, sensitivities, _steps);
        return Measured.From(sensitivities.ChargeC, "C", stated.Components, stated.UnknownBecause).In("Ah", 1 / JoulesPerWattHour);
    }

    /// <summary>The step of the power readings where it is too coarse to average out; zero where it is not. [W]</summary>
    public double CoarseStepW
    {
        get
        {
            double step = _layout.Resolution.GetValueOrDefault(LogQuantity.Power, 0);
            return _summary.Rules.Source == PowerSource.PowerColumn && _summary.DwellingShare > 0.5 ? step : 0;
        }
    }

    // The highest power kept up for about ten rows: a bridge over a gap can hide no more than that.
    private static double SustainedW(PowerEnvelope envelope)
    {
        var coarse = envelope.Reduced(Math.Max(16, envelope.Count / 10));
        double greatest = 0;
        for (int i = 0; i < coarse.Count; i++)
        {
            greatest = double.IsNaN(coarse[i].MeanPowerW) ? greatest : Math.Max(greatest, coarse[i].MeanPowerW);
        }

        return greatest;
    }

    private void Own(List<UncertaintyComponent> components, SourceKind kind, string part, double standardJ, ErrorShape shape = ErrorShape.Normal)
    {
        if (standardJ > 0)
        {
            components.Add(new(InfluenceSource.OfLog(LogId, kind, part, shape), standardJ));
        }
    }

    private PowerBasis Basis => StatedBasis.Of(
        _summary.Rules.Source,
        _accuracies,
        _layout.Has(LogQuantity.Voltage) && _layout.Has(LogQuantity.Current),
        _layout.Has(LogQuantity.PowerFactor),
        _summary.Rules.IsDirect(_summary.VoltSeconds.Value, _summary.CoveredS.Value));

    private double ApparentJ(double fromS, double toS)
    {
        double covered = _summary.Envelope.CoveredBetweenS(fromS, toS);
        return covered > 0 && Basis is PowerBasis.VoltageTimesCurrentTimesPowerFactor or PowerBasis.ApparentPowerTimesPowerFactor
            ? _summary.Envelope.VoltSecondsBetween(fromS, toS) * _summary.Envelope.ChargeBetweenC(fromS, toS) / covered
            : 0;
    }

    // A data sheet with clauses by reading: cells whose mean power lies below the limit make up the lower part.
    private EnergySensitivities SensitivitiesBelow(double fromS, double toS, MeterQuantity quantity, double limit)
    {
        double energy = 0, duration = 0, volts = 0, charge = 0;
        var envelope = _summary.Envelope;
        for (int i = 0; i < envelope.Count; i++)
        {
            ref readonly var cell = ref envelope[i];
            double covered = cell.CoveredS.Value;
            if (covered <= 0 || envelope.StartS(i) < fromS || envelope.StartS(i) >= toS)
            {
                continue;
            }

            double reading = quantity switch
            {
                MeterQuantity.Voltage => cell.VoltSeconds.Value / covered,
                MeterQuantity.Current => cell.ChargeC.Value / covered,
                _ => cell.MeanPowerW,
            };
            if (Math.Abs(reading) < limit)
            {
                energy += cell.EnergyJ.Value;
                duration += covered;
                volts += cell.VoltSeconds.Value;
                charge += cell.ChargeC.Value;
            }
        }

        return new EnergySensitivities { EnergyJ = energy, DurationS = duration, VoltSeconds = volts, ChargeC = charge, LogId = LogId };
    }

    private double NoiseJ(double fromS, double toS)
    {
        if (_summary.Rules.Source == PowerSource.EnergyCounter)
        {
            return 0;
        }

        // A mode that fills the log is the whole log, though both end somewhere in the outermost cells.
        var envelope = _summary.Envelope;
        double origin = envelope.OriginS;
        double end = envelope.StartS(envelope.Count);
        var stretch = (
            FromS: fromS < origin + envelope.BucketWidthS ? origin : fromS,
            ToS: toS > end - envelope.BucketWidthS ? end : toS);
        var noiseW = _noiseW.GetOrAdd(stretch, static (s, e) => new Lazy<double>(() => NoiseEstimate.OfMeanPowerW(e, s.FromS, s.ToS)), envelope);
        return noiseW.Value * envelope.CoveredBetweenS(fromS, toS);
    }

    // A value that dwells in a coarse step is wrong by the same amount for as long as it dwells, so this is never divided by √N. Whether readings are rounded or cut
    // down is not known: a whole step either way. A data sheet whose fixed part is at least a step has it in already.
    private double StepsJ(EnergySensitivities s)
    {
        double Half(MeterQuantity quantity, double sensitivity)
        {
            double step = _steps.GetValueOrDefault(quantity, 0);
            bool stated = _accuracies.TryGetValue(quantity, out var accuracy) && accuracy.Clauses.Min(c => c.FixedPart(step) ?? 0) >= step;
            return stated ? 0 : step * Math.Abs(sensitivity);
        }

        double half = _summary.Rules.Source switch
        {
            PowerSource.PowerColumn => Half(MeterQuantity.Power, s.DurationS),
            PowerSource.DirectCurrentProduct => Math.Sqrt(Square(Half(MeterQuantity.Voltage, s.ChargeC)) + Square(Half(MeterQuantity.Current, s.VoltSeconds))),
            PowerSource.EnergyCounter => _steps.GetValueOrDefault(MeterQuantity.Energy, 0),
            _ => 0,
        };
        return (_summary.DwellingShare > 0.5 ? half : 0.5 * half) / Math.Sqrt(3);
    }

    // Between instantaneous readings nobody looked. Taking every second reading and then the others gives two sums; half their difference shows what sampling can do.
    private double BetweenRowsJ(double fromS, double toS)
    {
        if (_summary.Rules.Samples == SampleKind.OnChange)
        {
            double covered = _summary.CoveredS.Value;
            double share = covered > 0 ? _summary.Envelope.CoveredBetweenS(fromS, toS) / covered : 0;
            return share * _summary.OneWayBoundJ.Value / Math.Sqrt(3);
        }

        if (_summary.Rules.Samples != SampleKind.Instantaneous || _summary.Rules.Source == PowerSource.EnergyCounter)
        {
            return 0;
        }

        double even = 0, odd = 0, previous = 0;
        long readings = 0;
        var envelope = _summary.Envelope;
        for (int i = 0; i < envelope.Count; i++)
        {
            ref readonly var cell = ref envelope[i];
            if (envelope.StartS(i) < fromS || envelope.StartS(i + 1) > toS || cell.Readings == 0 || cell.CoveredS.Value <= 0)
            {
                continue;
            }

            // Only whole pairs count: a last reading without a partner would look like a difference.
            readings++;
            double energy = cell.MeanPowerW * envelope.BucketWidthS;
            if (readings % 2 == 0)
            {
                even += energy;
                odd += previous;
            }

            previous = energy;
        }

        return readings >= 4 ? 0.5 * Math.Abs(even - odd) / Math.Sqrt(3) : 0;
    }

    private void AddGaps(List<UncertaintyComponent> components, double fromS, double toS)
    {
        var gaps = _summary.Gaps;
        double counterU = _summary.Rules.CounterStepJ / Math.Sqrt(6);
        foreach (var gap in gaps.Longest.Where(g => g.ToS > fromS && g.FromS < toS))
        {
            double u = gap.FromCounter && double.IsFinite(counterU) ? counterU : BridgeU(gap.LengthS, gap.EnergyJ);
            components.Add(new(InfluenceSource.OfLog(LogId, SourceKind.Gap, $"gap-at-line-{gap.Line}", ErrorShape.Rectangular), u));
        }

        if (gaps.OtherSquaredS > 0)
        {
            double other = (Square(_sustainedW.Value) * gaps.OtherSquaredS / 3) - (_sustainedW.Value * gaps.OtherEnergySeconds) + gaps.OtherSquaredJ;
            components.Add(new(InfluenceSource.OfLog(LogId, SourceKind.Gap, "other-gaps"), Math.Sqrt(Math.Max(0, other))));
        }
    }

    // Anything from nothing to the highest sustained power may have flowed: a rectangular distribution whose middle need not be the bridge's value.
    private double BridgeU(double lengthS, double bridgedJ)
    {
        double most = Math.Max(_sustainedW.Value * lengthS, bridgedJ);
        return Math.Sqrt((most * most / 12) + Square((0.5 * most) - bridgedJ));
    }

    // A border that moves by a second adds or takes away a second of the step in power at the border.
    private double BorderJ(double timeS, double uncertaintyS)
    {
        if (uncertaintyS <= 0)
        {
            return 0;
        }

        double reach = Math.Max(uncertaintyS, 2 * _layout.MedianIntervalS);
        double inside = Mean(timeS - reach, timeS);
        double outside = Mean(timeS, timeS + reach);
        return Math.Max(inside, outside) * uncertaintyS;
    }

    private double Mean(double fromS, double toS)
    {
        double covered = _summary.Envelope.CoveredBetweenS(fromS, toS);
        return covered > 0 ? Math.Abs(_summary.Envelope.EnergyBetweenJ(fromS, toS)) / covered : 0;
    }

    // Whether the drop across the meter's own resistance, and its own supply, lies before or after what it reads depends on how it is built: anywhere from none to all.
    private void AddBurden(List<UncertaintyComponent> components, double fromS, double toS)
    {
        if (_meter?.BurdenOhm is > 0 and var ohm && _meterName is not null)
        {
            double loss = ohm * _summary.Envelope.SquaredCurrentBetweenS(fromS, toS);
            components.Add(new(InfluenceSource.OfMeter(_meterName, SourceKind.MeterInLine, "burden", ErrorShape.Rectangular), loss / Math.Sqrt(3)));
        }

        if (_meter?.SelfPowerW is > 0 and var watts && _meterName is not null && (_meter.SelfPowerFrom is null || _meter.SelfPowerFrom == _meter.Options.Point))
        {
            double taken = watts * _summary.Envelope.CoveredBetweenS(fromS, toS);
            components.Add(new(InfluenceSource.OfMeter(_meterName, SourceKind.MeterInLine, "own-supply", ErrorShape.Rectangular), taken / Math.Sqrt(3)));
        }
    }

    private static double Square(double x) => x * x;
}
