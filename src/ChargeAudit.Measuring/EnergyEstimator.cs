using ChargeAudit.Logs;
using ChargeAudit.Logs.Layout;
using ChargeAudit.Measuring.Damage;
using ChargeAudit.Measuring.Integration;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.Measuring;

/// <summary>
/// Energies of one log, each with all that makes it uncertain: the meter's stated accuracy, the scatter of readings, the steps of its
/// readings, what may have happened between rows and in gaps, and what the meter itself takes. What uncertain borders do is in
/// <see cref="ModeFigures"/>. Its answers never change; safe for several threads.
/// </summary>
public sealed class EnergyEstimator
{
    private const double FineStepShare = 1e-4;
    private const string WholeLog = "whole";

    // An exponential fall between two rows bends below the straight line, by up to 0.28 of half a step where it ends at a fifth of the step
    // (elementary calculus). The interval of a rectangular error reaches to 0.95 of its limits.
    private const double BentCourse = 1.28 / 0.95;

    private readonly LogSummary _summary;
    private readonly LogLayout _layout;
    private readonly Meter? _meter;
    private readonly string? _meterName;
    private readonly IReadOnlyDictionary<LogQuantity, MeterAccuracy> _accuracies;
    private readonly Dictionary<LogQuantity, double> _steps;
    private readonly Lazy<double> _sustainedW;
    private readonly Lazy<Measured> _whole;
    private readonly CounterChoice _counter;
    private readonly MainsLoad _mains;
    private readonly ReadingCorrection _correction;

    // Energy and mean power of a stretch are both asked for, and going through its cells is most of their cost: whoever asks second waits
    // for the result of the first.
    private readonly Dictionary<(double FromS, double ToS), Lazy<double>> _noiseW = [];
    private readonly Dictionary<(double FromS, double ToS), Lazy<double>> _samplingJ = [];

    /// <summary>Prepares the energies of a log.</summary>
    /// <param name="summary">Its finished summary.</param>
    /// <param name="layout">How it was understood.</param>
    /// <param name="meter">Its meter; null where it was not stated.</param>
    /// <param name="logId">Name of the log, for the sources that are its own.</param>
    /// <param name="load">What is fed, for errors that depend on its kind of current; null: one load only.</param>
    public EnergyEstimator(LogSummary summary, LogLayout layout, Meter? meter, string logId, string? load = null)
    {
        _mains = new MainsLoad(summary, layout, meter, load);
        _correction = new ReadingCorrection(summary, layout, meter, _mains);
        _summary = summary;
        _layout = layout;
        _meter = meter;
        _meterName = meter is { Accuracy.Count: > 0 } || meter is { Name: not "command-line" } ? meter?.Name : null;
        LogId = logId;
        _accuracies = meter?.Accuracy ?? Meter.Unknown;
        _steps = MeterAccuracies.Steps(layout, _accuracies);
        if (double.IsFinite(summary.CounterStepJ))
        {
            _steps[LogQuantity.Energy] = summary.CounterStepJ;
        }

        _counter = new CounterChoice(summary, logId, _accuracies.ContainsKey(LogQuantity.Energy)
            ? s => MeterError.ForEnergy(_meterName, _accuracies, s, PowerBasis.EnergyCounter, _steps)
            : null);
        _sustainedW = new Lazy<double>(() => SustainedPower.OfW(summary.Envelope));
        _whole = new Lazy<Measured>(() => WorkedOutWh(double.NegativeInfinity, double.PositiveInfinity, WholeLog, false));
    }

    /// <summary>Name of the log.</summary>
    public string LogId { get; }

    /// <summary>The sources of its figures.</summary>
    internal KnownSources Sources { get; } = new();

    /// <summary>The energy counter's good readings with its advances added up, and its step; empty where the log holds none. [s,
    /// J]</summary>
    internal (IReadOnlyList<(double TimeS, double EnergyJ)> Readings, double StepJ) Counter => (_summary.Counted, _summary.CounterStepJ);

    /// <summary>Whether a counter stands beside the readings that can be compared with them.</summary>
    internal bool HasCounterBeside => _counter.StandsBeside();

    /// <summary>Whether a calibration of its meter corrects it.</summary>
    internal bool IsCorrected => _correction.Quantities.Count > 0;

    /// <summary>What its meter's calibrations change.</summary>
    internal ReadingCorrection Correction => _correction;

    /// <summary>What was added to the energy as read between two times; null where no calibration counts. [Wh]</summary>
    public double? CorrectionWh(double fromS, double toS) =>
        IsCorrected ? _correction.Of(fromS, toS).CorrectionJ / Joules.PerWattHour : null;

    /// <summary>What was added to the mean power as read; null where no calibration counts. [W]</summary>
    public double? CorrectionW(double fromS, double toS) =>
        CorrectionWh(fromS, toS) * Joules.PerWattHour / _summary.Envelope.CoveredBetweenS(fromS, toS);

    /// <summary>Its load on the mains, and where that leaves the meter's limits.</summary>
    internal MainsLoad Mains => _mains;

    /// <summary>Leaves the cells of the log to a shelf.</summary>
    internal void Rest(CellShelf shelf) => _summary.Rest(shelf);

    /// <summary>Power over time.</summary>
    internal PowerEnvelope Envelope => _summary.Envelope;

    /// <summary>Usual interval between rows. [s]</summary>
    internal double IntervalS => _layout.MedianIntervalS;

    /// <summary>What a reading stands for.</summary>
    internal SampleKind Samples => _summary.Rules.Samples;

    /// <summary>Whether power comes from an energy counter.</summary>
    internal bool IsCounted => _summary.Rules.Source == PowerSource.EnergyCounter;

    /// <summary>Energy between two times. [Wh]</summary>
    /// <param name="fromS">Start. [s]</param>
    /// <param name="toS">End. [s]</param>
    /// <param name="part">What the stretch is, for the names of its own sources: <c>charge</c>, <c>whole</c> …</param>
    /// <param name="byReadings">Whether a counter beside the readings is left out of account.</param>
    public Measured EnergyWh(double fromS, double toS, string part = WholeLog, bool byReadings = false) =>
        double.IsNegativeInfinity(fromS) && double.IsPositiveInfinity(toS) && part == WholeLog && !byReadings
            ? _whole.Value
            : WorkedOutWh(fromS, toS, part, byReadings);

    private Measured WorkedOutWh(double fromS, double toS, string part, bool byReadings)
    {
        var envelope = _summary.Envelope;
        bool whole = fromS <= envelope.OriginS && toS >= envelope.StartS(envelope.Count);
        double energyJ = (whole ? _summary.EnergyJ.Value : envelope.EnergyBetweenJ(fromS, toS)) + CounterErrors.UnmovedJ(_summary);
        double coveredS = envelope.CoveredBetweenS(fromS, toS);
        double voltSeconds = envelope.VoltSecondsBetween(fromS, toS);
        double chargeC = envelope.ChargeBetweenC(fromS, toS);
        var sensitivities = new EnergySensitivities
        {
            EnergyJ = energyJ,
            DurationS = coveredS,
            VoltSeconds = voltSeconds,
            ChargeC = chargeC,
            ApparentJ = coveredS > 0 && Basis is PowerBasis.VoltageTimesCurrentTimesPowerFactor or PowerBasis.ApparentPowerTimesPowerFactor
                ? voltSeconds * chargeC / coveredS
                : 0,
            LogId = LogId,
            Below = (quantity, limit) => SensitivitiesBelow(fromS, toS, quantity, limit),
        };
        var corrected = _correction.Of(fromS, toS);
        var stated = _correction.Stated(corrected, _accuracies, Basis, (of, basis, s) =>
            MeterError.ForEnergy(_meterName, of, s, basis, _steps), sensitivities);
        var components = new List<UncertaintyComponent>([.. stated.Components, .. corrected.Components]);
        double noiseJ = NoiseJ(fromS, toS, coveredS);
        Own(components, SourceKind.Noise, $"{part}-noise", noiseJ);
        Own(components, SourceKind.Steps, $"{part}-steps", StepsJ(fromS, toS, sensitivities), ErrorShape.Rectangular);
        AddBetweenRows(components, fromS, toS, part, noiseJ);
        Own(components, SourceKind.Other, $"{part}-product-of-means", PulsedProduct.StandardJ(_summary, fromS, toS),
            ErrorShape.Rectangular);
        if (_summary.Rules.Source == PowerSource.EnergyCounter)
        {
            components.AddRange(CounterErrors.Of(_summary, LogId, fromS, toS));
        }

        AddGaps(components, fromS, toS);
        if (!byReadings && !IsCorrected)
        {
            (energyJ, components) = _counter.Of(energyJ, components, fromS, toS);
        }

        AddBurden(components, fromS, toS);
        components.AddRange(_mains.Components(fromS, toS));
        components.AddRange(HiddenEnergy.Components(_summary, LogId, fromS, toS));
        string? unknown = CosineDoubt.UnknownBecause(_layout, _summary.Rules.Source) ?? stated.UnknownBecause
            ?? corrected.UnknownBecause ?? _mains.UnknownBecause(fromS, toS)
            ?? CounterDoubts.Unknown(_summary) ?? HiddenEnergy.UnknownBecause(_summary, fromS, toS);
        var energy = Measured.From(energyJ + corrected.CorrectionJ, "J", Sources.Of(components), unknown).In("Wh", 1 / Joules.PerWattHour);
        return ZeroCut.Of(energy, _summary.Rules.FlowsOneWay);
    }

    /// <summary>Mean power between two times. [W]</summary>
    public Measured MeanPowerW(double fromS, double toS, string part, bool byReadings = false)
    {
        double covered = _summary.Envelope.CoveredBetweenS(fromS, toS);
        return EnergyWh(fromS, toS, part, byReadings).In("W", covered > 0 ? Joules.PerWattHour / covered : double.NaN);
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
        var components = new List<UncertaintyComponent>(stated.Components);
        Own(components, SourceKind.Steps, "charge-moved-steps",
            StandardByStep(fromS, toS, LogQuantity.Current, sensitivities.DurationS, sensitivities.ChargeC), ErrorShape.Rectangular);
        if (_summary.Unseen is { } unseen && sensitivities.DurationS > 0)
        {
            double meanV = Math.Abs(envelope.VoltSecondsBetween(fromS, toS)) / sensitivities.DurationS;
            double taperJ = 0.5 * Math.Abs(unseen.OneWayBetweenJ(fromS, toS));
            Own(components, SourceKind.Other, "charge-moved-taper", meanV > 0
                ? BentCourse * taperJ / meanV / Math.Sqrt(3)
                : 0, ErrorShape.Rectangular);
            Own(components, SourceKind.Other, "charge-moved-unwritten", meanV > 0 ? unseen.StandardBetweenJ(fromS, toS) / meanV : 0);
        }

        return Measured.From(sensitivities.ChargeC, "C", Sources.Of(components), stated.UnknownBecause).In("Ah", 1 / Joules.PerWattHour);
    }

    /// <summary>The step of the power readings where it is too coarse to average out; zero where it is not. [W]</summary>
    public double CoarseStepW
    {
        get
        {
            double step = _steps.GetValueOrDefault(LogQuantity.Power, 0);
            return _summary.Rules.Source == PowerSource.PowerColumn && _summary.DwellingShare > 0.5 ? step : 0;
        }
    }

    private void Own(List<UncertaintyComponent> components, SourceKind kind, string part, double standardJ,
        ErrorShape shape = ErrorShape.Normal)
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
        _summary.IsDirect,
        _meter is { Phase.Count: > 0 });

    // A data sheet with clauses by reading: cells whose mean power lies below the limit make up the lower part.
    private EnergySensitivities SensitivitiesBelow(double fromS, double toS, LogQuantity quantity, double limit)
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
                LogQuantity.Voltage => cell.VoltSeconds.Value / covered,
                LogQuantity.Current => cell.ChargeC.Value / covered,
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

    private double NoiseJ(double fromS, double toS, double coveredS)
    {
        if (_summary.Rules.Source == PowerSource.EnergyCounter || _summary.Rules.Samples == SampleKind.OnChange)
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
        var samples = _summary.Rules.Samples;
        return Once(_noiseW, stretch, () => NoiseEstimate.OfMeanPowerW(envelope, stretch.FromS, stretch.ToS, samples)) * coveredS;
    }

    private static double Once(
        Dictionary<(double FromS, double ToS), Lazy<double>> known, (double FromS, double ToS) stretch, Func<double> value)
    {
        Lazy<double>? once;
        lock (known)
        {
            if (!known.TryGetValue(stretch, out once))
            {
                known.Add(stretch, once = new Lazy<double>(value));
            }
        }

        return once.Value;
    }

    // One error for the whole stretch, never divided by the number of rows. A data sheet whose fixed part is at least a step has it in
    // already.
    private double StandardByStep(double fromS, double toS, LogQuantity quantity, double sensitivity, double amount)
    {
        double step = _steps.GetValueOrDefault(quantity, 0);
        bool stated = _accuracies.TryGetValue(quantity, out var accuracy) && accuracy.Clauses.Min(c => c.FixedPart(step) ?? 0) >= step;
        double whole = step * Math.Abs(sensitivity);
        if (stated || whole <= 0)
        {
            return 0;
        }

        // Whether a fine step averages out makes no visible difference.
        bool fine = whole < FineStepShare * Math.Abs(amount);
        return whole * StepError.Standard(fine ? 1 : StepError.StayingShare(_summary.Envelope, fromS, toS, step, quantity));
    }

    private double StepsJ(double fromS, double toS, EnergySensitivities s)
    {
        double Of(LogQuantity quantity, double sensitivity) => StandardByStep(fromS, toS, quantity, sensitivity, s.EnergyJ);
        double Product() => Square(Of(LogQuantity.Voltage, s.ChargeC * s.MeanPowerFactor))
            + Square(Of(LogQuantity.Current, s.VoltSeconds * s.MeanPowerFactor));
        double factor = _summary.Rules.Source is PowerSource.ProductWithPowerFactor or PowerSource.ApparentWithPowerFactor
            ? Square(Of(LogQuantity.PowerFactor, s.ApparentJ))
            : 0;
        double squared = _summary.Rules.Source switch
        {
            // Where it is a product, its own lattice is that of its factors.
            PowerSource.PowerColumn => Math.Max(Square(Of(LogQuantity.Power, s.DurationS)), _layout.PowerIsProduct ? Product() : 0),
            PowerSource.DirectCurrentProduct or PowerSource.ProductWithPowerFactor => Product() + factor,
            PowerSource.ApparentWithPowerFactor => Square(Of(LogQuantity.ApparentPower, s.DurationS * s.MeanPowerFactor)) + factor,
            _ => 0,
        };
        return Math.Sqrt(squared);
    }

    private void AddBetweenRows(List<UncertaintyComponent> components, double fromS, double toS, string part, double noiseJ)
    {
        if (_summary.Unseen is { } unseen)
        {
            // From the held values to the straight line, and a little beyond for a course that bends: the energy has the middle of it.
            // Where in between the truth lies depends on the meter and the device, so all logs of the meter err in the same way.
            double oneWayJ = BentCourse * 0.5 * unseen.EitherWayBetweenJ(fromS, toS) / Math.Sqrt(3);
            if (oneWayJ != 0)
            {
                components.Add(new(_meterName is null
                    ? InfluenceSource.OfLog(LogId, SourceKind.Other, "taper", ErrorShape.Rectangular)
                    : InfluenceSource.OfMeter(_meterName, SourceKind.Other, "taper", ErrorShape.Rectangular), oneWayJ));
            }

            Own(components, SourceKind.Other, $"{part}-unwritten", unseen.StandardBetweenJ(fromS, toS));
        }

        if (_summary.Rules.Samples == SampleKind.Instantaneous && _summary.Rules.Source != PowerSource.EnergyCounter)
        {
            // What the scatter of readings does not hold already.
            double sampling = Square(Once(_samplingJ, (fromS, toS), () => SamplingError.StandardJ(_summary.Envelope, fromS, toS)))
                - Square(noiseJ);
            Own(components, SourceKind.Sampling, $"{part}-between-rows", Math.Sqrt(Math.Max(0, sampling)));
        }
    }

    private void AddGaps(List<UncertaintyComponent> components, double fromS, double toS)
    {
        var gaps = _summary.Gaps;
        foreach (var gap in gaps.Longest.Where(g => g.ToS > fromS && g.FromS < toS && _summary.Rules.Source != PowerSource.EnergyCounter))
        {
            var (u, shape) = GapChoice.Uncertainty(gap, _summary.CounterStepJ, _sustainedW.Value);
            components.Add(new(InfluenceSource.OfLog(LogId, SourceKind.Gap, $"gap-at-line-{gap.Line}", shape), u));
        }

        if (gaps.OtherSquaredS > 0 && _summary.Rules.Source != PowerSource.EnergyCounter)
        {
            double other = (Square(_sustainedW.Value) * gaps.OtherSquaredS / 3) - (_sustainedW.Value * gaps.OtherEnergySeconds)
                + gaps.OtherSquaredJ;
            components.Add(new(InfluenceSource.OfLog(LogId, SourceKind.Gap, "other-gaps"), Math.Sqrt(Math.Max(0, other))));
        }
    }

    // Whether the drop across the meter's own resistance, and its own supply, lies before or after what it reads depends on how it is
    // built: anywhere from none to all.
    private void AddBurden(List<UncertaintyComponent> components, double fromS, double toS)
    {
        if (_meter?.BurdenOhm is > 0 and var ohm && _meterName is not null)
        {
            double loss = ohm * _summary.Envelope.SquaredCurrentBetweenS(fromS, toS);
            components.Add(
                new(InfluenceSource.OfMeter(_meterName, SourceKind.MeterInLine, "burden", ErrorShape.Rectangular), loss / Math.Sqrt(3)));
        }

        if (_meter?.SelfPowerW is > 0 and var watts && _meterName is not null
            && (_meter.SelfPowerFrom is null || _meter.SelfPowerFrom == _meter.Options.Point))
        {
            double taken = watts * _summary.Envelope.CoveredBetweenS(fromS, toS);
            components.Add(new(InfluenceSource.OfMeter(_meterName, SourceKind.MeterInLine, "own-supply", ErrorShape.Rectangular), taken
                / Math.Sqrt(3)));
        }
    }

    private static double Square(double x) => x * x;
}
