using ChargeAudit.Logs.Layout;
using ChargeAudit.Measuring.Integration;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Calibration;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.Measuring;

/// <summary>
/// What the calibrations of a meter change in the energies of one of its logs. A correction c(x) of a reading x brings the time-weighted
/// sum of c over the cells of the envelope. That is exact for a line, whose sums the cells hold; where a curve bends inside a cell, the
/// spread between the cell's least and greatest reading bounds the rest. Its errors are the meter's, the same over all logs of the
/// calibration.
/// </summary>
internal sealed class ReadingCorrection
{
    /// <summary>With nothing else stated, this share of an energy may lie outside the calibrated range; the curve is extended there.
    /// [1]</summary>
    private const double LetPass = 0.02;

    private const double DaysPerYear = 365.25;

    private readonly LogSummary _summary;
    private readonly LogLayout _layout;
    private readonly Meter? _meter;
    private readonly MainsLoad _mains;
    private readonly Lazy<double?> _powerFactor;
    private readonly Dictionary<(double, double), CorrectedStretch> _known = [];

    public ReadingCorrection(LogSummary summary, LogLayout layout, Meter? meter, MainsLoad mains)
    {
        _summary = summary;
        _layout = layout;
        _meter = meter;
        _mains = mains;
        Quantities = meter is { Calibrations.Count: > 0 } ? UsableOf(summary, layout, meter) : [];
        _powerFactor = new Lazy<double?>(() => mains.PowerFactor(double.NegativeInfinity, double.PositiveInfinity) ?? meter?.PowerFactor);
    }

    /// <summary>The quantities that are corrected in this log; empty: none.</summary>
    public IReadOnlyList<LogQuantity> Quantities { get; }

    /// <summary>The calibrations that count in this log.</summary>
    public IEnumerable<MeterCalibration> Used => _meter?.Calibrations.Where(c => Quantities.Contains(c.Quantity)) ?? [];

    /// <summary>What has to be added to an energy, with its errors. Nothing where the meter has no calibration for this log.</summary>
    /// <param name="fromS">Start. [s]</param>
    /// <param name="toS">End. [s]</param>
    public CorrectedStretch Of(double fromS, double toS)
    {
        if (Quantities.Count == 0)
        {
            return CorrectedStretch.None;
        }

        lock (_known)
        {
            return _known.TryGetValue((fromS, toS), out var known) ? known : _known[(fromS, toS)] = WorkedOut(fromS, toS);
        }
    }

    // A calibration of power goes before one of voltage or current; a product is corrected by its factors. On alternating current the
    // factors of a power column are unknown.
    private static List<LogQuantity> UsableOf(LogSummary summary, LogLayout layout, Meter meter)
    {
        bool Has(LogQuantity quantity) => meter.Calibrations.Any(c => c.Quantity == quantity);
        if (summary.Rules.Source == PowerSource.EnergyCounter)
        {
            return Has(LogQuantity.Energy) ? [LogQuantity.Energy] : [];
        }

        if (Has(LogQuantity.Power))
        {
            return [LogQuantity.Power];
        }

        bool product = summary.Rules.Source is PowerSource.DirectCurrentProduct or PowerSource.ProductWithPowerFactor
            || (layout.Has(LogQuantity.Voltage) && layout.Has(LogQuantity.Current) && summary.IsDirect);
        return product ? [.. new[] { LogQuantity.Voltage, LogQuantity.Current }.Where(Has)] : [];
    }

    private CorrectedStretch WorkedOut(double fromS, double toS)
    {
        var sums = new CorrectionSums(_meter!.Name);
        var envelope = _summary.Envelope;
        double energyJ = 0;
        foreach (var (i, share) in _mains.Cells(fromS, toS))
        {
            ref readonly var cell = ref envelope[i];
            double timeS = share * cell.CoveredS.Value, energy = share * cell.EnergyJ.Value;
            energyJ += energy;
            foreach (var quantity in Quantities)
            {
                Add(sums, in cell, quantity, timeS, energy, share);
            }
        }

        return sums.Finish(energyJ, LetPass, _meter, Drift);
    }

    private void Add(CorrectionSums sums, in EnvelopeBucket cell, LogQuantity quantity, double timeS, double energyJ, double share)
    {
        double coveredS = cell.CoveredS.Value;
        double volts = cell.VoltSeconds.Value / coveredS, amperes = cell.ChargeC.Value / coveredS;
        double factor = _summary.Rules.Source == PowerSource.ProductWithPowerFactor && volts * amperes != 0
            ? cell.MeanPowerW / (volts * amperes)
            : 1;
        var (reading, weight) = quantity switch
        {
            LogQuantity.Voltage => (volts, factor * share * cell.ChargeC.Value),
            LogQuantity.Current => (amperes, factor * share * cell.VoltSeconds.Value),
            _ => (cell.MeanPowerW, timeS),
        };
        if (Holding(quantity, reading) is not { } calibration)
        {
            sums.Outside(quantity, timeS, energyJ, weight, reading);
            return;
        }

        double correction = calibration.Curve.At(reading);
        sums.Add(calibration, reading, weight, correction);
        if (quantity == LogQuantity.Current && Quantities.Contains(LogQuantity.Voltage)
            && Holding(LogQuantity.Voltage, volts) is { } ofVoltage)
        {
            sums.AddProduct(factor * timeS * correction * ofVoltage.Curve.At(volts));
        }

        if (quantity == LogQuantity.Power && calibration.Curve.Nodes.Count > 0 && cell.Readings > 0)
        {
            sums.AddBend(calibration, timeS * BendInCell(calibration.Curve, cell.MinPowerW, cell.MaxPowerW, reading));
        }
    }

    // How far the mean of the corrections over a cell may lie from the correction of its mean.
    private static double BendInCell(CorrectionCurve curve, double least, double greatest, double mean)
    {
        var inside = curve.Nodes.Where(x => x > least && x < greatest).ToList();
        if (inside.Count == 0 || !(greatest > least))
        {
            return 0;
        }

        double slope = (curve.At(greatest) - curve.At(least)) / (greatest - least);
        double From(double x) => curve.At(x) - curve.At(least) - (slope * (x - least));
        var departures = inside.Select(From).Append(0).ToList();
        double here = From(Math.Clamp(mean, least, greatest));
        return Math.Max(departures.Max() - here, here - departures.Min());
    }

    private MeterCalibration? Holding(LogQuantity quantity, double reading) => _meter!.Calibrations.FirstOrDefault(c =>
        c.Quantity == quantity && Math.Abs(reading) >= c.Range.From && Math.Abs(reading) <= c.Range.To
        && (c.PowerFactor is not { } band || (_powerFactor.Value is { } factor && factor >= band.From && factor <= band.To)));

    private double? Years(MeterCalibration calibration) => _layout.Start is { } start && calibration.Date is { } day
        ? Math.Abs(DateOnly.FromDateTime(start.DateTime).DayNumber - day.DayNumber) / DaysPerYear
        : null;

    private (double Years, string? Unknown) Drift(MeterCalibration calibration) => calibration.DriftPerYear is null ? (0, null)
        : Years(calibration) is { } years ? (years, null)
        : (0, $"meter {_meter!.Name} is stated to drift by so much a year, and "
            + $"{(calibration.Date is null ? "the day of its calibration is not stated" : "the log tells no date")}");

    /// <summary>The meter's stated errors beside the corrections: a calibrated part gives way to them, within the calibrated
    /// range.</summary>
    /// <param name="corrected">The corrections of the stretch.</param>
    /// <param name="stated">What the data sheet states.</param>
    /// <param name="basis">How power was obtained.</param>
    /// <param name="errors">Carries accuracies into an energy.</param>
    /// <param name="whole">The integrals of the stretch.</param>
    public MeterErrors Stated(
        CorrectedStretch corrected,
        IReadOnlyDictionary<LogQuantity, MeterAccuracy> stated,
        PowerBasis basis,
        Func<IReadOnlyDictionary<LogQuantity, MeterAccuracy>, PowerBasis, EnergySensitivities, MeterErrors> errors,
        EnergySensitivities whole)
    {
        if (Quantities.Count == 0)
        {
            return errors(stated, basis, whole);
        }

        basis = Quantities.Contains(LogQuantity.Power) ? PowerBasis.PowerColumn
            : Quantities.Contains(LogQuantity.Energy) || basis != PowerBasis.PowerColumn ? basis
            : PowerBasis.VoltageTimesCurrent;
        var left = new Dictionary<LogQuantity, MeterAccuracy>(stated);
        foreach (var quantity in Quantities)
        {
            if (Left(quantity, stated.GetValueOrDefault(quantity)) is { } rest)
            {
                left[quantity] = rest;
            }
        }

        var result = errors(left, basis, whole);
        var outside = corrected.Outside.Where(o => stated.ContainsKey(o.Key)).SelectMany(o => errors(
            new Dictionary<LogQuantity, MeterAccuracy> { [o.Key] = stated[o.Key] }, basis,
                o.Value with { LogId = whole.LogId }).Components);
        return result with { Components = [.. result.Components, .. outside] };
    }

    // An offset leaves the gain as stated, and a gain the offset.
    private MeterAccuracy? Left(LogQuantity quantity, MeterAccuracy? stated)
    {
        var models = _meter!.Calibrations.Where(c => c.Quantity == quantity).Select(c => c.Model).ToList();
        bool gain = !models.Contains(CorrectionModel.Offset), offset = !models.Contains(CorrectionModel.Gain);
        return (gain && offset) || quantity == LogQuantity.Energy
            ? new MeterAccuracy { Text = "calibrated", Quantity = quantity, Clauses = [new AccuracyClause(null, 0, 0, 0)] }
            : stated is null ? null
            : stated with
            {
                Stability = null,
                Clauses = [.. stated.Clauses.Select(c => gain
                    ? c with { RelativeHalfWidth = 0 }
                    : c with { FixedHalfWidth = 0, Digits = 0 })],
            };
    }

    /// <summary>The calibrations that count in this log, in words; null where there are none.</summary>
    public string? Words() => Quantities.Count == 0 ? null : string.Join("; ", Used.Select(c =>
        $"{StableName.Of(c.Quantity)} by {StableName.Of(c.Model).Replace('-', ' ')} from "
        + InvariantText.Of($"{c.Points.Count} {(c.Points.Count == 1 ? "point" : "points")}")
        + (c.Date is { } day ? Prose.Of($" of {day:yyyy-MM-dd}") : ", day not stated")));

    /// <summary>What to doubt about the corrections, as sentences.</summary>
    public IEnumerable<Doubt> Doubts()
    {
        if (Quantities.Count == 0)
        {
            if (_meter is { Calibrations.Count: > 0 })
            {
                yield return new(Gravity.Reading, $"The calibration of meter {_meter.Name} is of "
                    + string.Join(" and ", _meter.Calibrations.Select(c => StableName.Of(c.Quantity)).Distinct())
                    + " and corrects nothing here: the energy of this log is obtained in another way.");
            }

            yield break;
        }

        foreach (var calibration in Used.Where(c => c.DriftPerYear is null))
        {
            string of = $"The calibration of meter {_meter!.Name} for {StableName.Of(calibration.Quantity)}";
            if (calibration.Date is null)
            {
                yield return $"{of} states no date, so how far the meter may have moved since is not known and not in the interval.";
            }
            else if (Years(calibration) is > 1 and var years)
            {
                yield return Prose.Of(
                    $"{of} lies {years:F1} years from this log, and how far the meter moves in a year is not stated, ")
                    + "so it is not in the interval; state drift-per-year.";
            }
        }

        var whole = Of(double.NegativeInfinity, double.PositiveInfinity);
        foreach (var (quantity, outside) in whole.Outside)
        {
            double share = outside.DurationS / _summary.CoveredS.Value;
            if (share > LetPass)
            {
                yield return Prose.Of($"For {100 * share:F0} % of the time the {StableName.Of(quantity)} lies outside what meter ")
                    + $"{_meter!.Name} was calibrated for; nothing is corrected there.";
            }
        }
    }
}
