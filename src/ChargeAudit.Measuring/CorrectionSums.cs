using System.Globalization;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Calibration;
using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.Measuring;

/// <summary>Gathers corrections and their errors over the cells of a stretch.</summary>
/// <param name="meterName">Whose they are.</param>
internal sealed class CorrectionSums(string meterName)
{
    private readonly Dictionary<MeterCalibration, Tally> _tallies = new(ReferenceEqualityComparer.Instance);
    private readonly Dictionary<LogQuantity, EnergySensitivities> _outside = [];
    private double _correctionJ;

    /// <summary>A reading within a calibration.</summary>
    public void Add(MeterCalibration calibration, double reading, double weight, double correction)
    {
        if (!_tallies.TryGetValue(calibration, out var tally))
        {
            _tallies.Add(calibration, tally = new Tally(new double[calibration.Curve.Errors.Count]));
        }

        _correctionJ += weight * correction;
        for (int k = 0; k < tally.Sensitivities.Length; k++)
        {
            tally.Sensitivities[k] += weight * calibration.Curve.Errors[k].Sensitivity(reading);
        }

        tally.Amount += weight * reading;
        tally.Weight += weight;
    }

    /// <summary>The product of two factors' corrections. [J]</summary>
    public void AddProduct(double energyJ) => _correctionJ += energyJ;

    /// <summary>What a bend inside a cell leaves open. [J]</summary>
    public void AddBend(MeterCalibration calibration, double halfWidthJ) => _tallies[calibration].BendJ += halfWidthJ;

    /// <summary>A reading that no calibration of its quantity holds for.</summary>
    public void Outside(LogQuantity quantity, double timeS, double energyJ, double weight, double reading)
    {
        var known = _outside.GetValueOrDefault(quantity) ?? new EnergySensitivities { EnergyJ = 0 };
        _outside[quantity] = known with
        {
            EnergyJ = known.EnergyJ + energyJ,
            DurationS = known.DurationS + timeS,
            ChargeC = known.ChargeC + (quantity == LogQuantity.Voltage ? weight : 0),
            VoltSeconds = known.VoltSeconds + (quantity == LogQuantity.Current ? weight : 0),
        };
    }

    /// <summary>The whole.</summary>
    /// <param name="energyJ">Energy of the stretch as read. [J]</param>
    /// <param name="letPass">Share of it that may lie outside where nothing else is stated. [1]</param>
    /// <param name="meter">The meter.</param>
    /// <param name="drift">Years since a calibration, or why they are not known.</param>
    public CorrectedStretch Finish(double energyJ, double letPass, Meter meter,
        Func<MeterCalibration, (double Years, string? Unknown)> drift)
    {
        var components = new List<UncertaintyComponent>();
        var unknown = new List<string>();
        foreach (var (calibration, tally) in _tallies)
        {
            string name = StableName.Of(calibration.Quantity) + "-calibration"
                + (calibration.Date is { } day ? day.ToString("-yyyy-MM-dd", CultureInfo.InvariantCulture) : "")
                + (meter.Calibrations.Count(c => c.Quantity == calibration.Quantity) > 1
                    ? InvariantText.Of($"-{1 + meter.Calibrations.ToList().IndexOf(calibration)}")
                    : "");
            for (int k = 0; k < tally.Sensitivities.Length; k++)
            {
                var error = calibration.Curve.Errors[k];
                components.Add(new(
                    Source($"{name}-{error.Part}", error.Shape) with { DegreesOfFreedom = error.DegreesOfFreedom },
                    error.StandardUncertainty * tally.Sensitivities[k]));
            }

            if (tally.BendJ > 0)
            {
                components.Add(new(Source($"{name}-bends", ErrorShape.Rectangular), tally.BendJ / Math.Sqrt(3)));
            }

            AddDrift(components, unknown, calibration, tally, name, drift);
        }

        foreach (var (quantity, outside) in _outside)
        {
            if (!meter.Accuracy.ContainsKey(quantity) && Math.Abs(outside.EnergyJ) > letPass * Math.Abs(energyJ))
            {
                unknown.Add(Prose.Of($"meter {meterName} was not calibrated for {100 * outside.EnergyJ / energyJ:F0} % of this ")
                    + $"energy, and no accuracy of {StableName.Of(quantity).Replace('-', ' ')} is stated besides");
            }
        }

        return new CorrectedStretch(_correctionJ, [.. components.Where(c => c.SignedStandardUncertainty != 0)], _outside,
            unknown.Count > 0 ? string.Join("; ", unknown) : null);
    }

    private void AddDrift(List<UncertaintyComponent> components, List<string> unknown, MeterCalibration calibration, Tally tally,
        string name, Func<MeterCalibration, (double Years, string? Unknown)> drift)
    {
        var (years, why) = drift(calibration);
        if (why is not null)
        {
            unknown.Add(why);
        }
        else if (calibration.DriftPerYear is { } rate)
        {
            double u = rate.StandardPerHalfWidth * years;
            components.Add(new(Drifting(name + "-drift-gain", rate.Shape), u * rate.Clauses.Max(c => c.RelativeHalfWidth) * tally.Amount));
            components.Add(new(Drifting(name + "-drift-offset", rate.Shape), u * rate.Clauses.Max(c => c.FixedHalfWidth) * tally.Weight));
        }
    }

    private InfluenceSource Source(string part, ErrorShape shape) =>
        InfluenceSource.OfMeter(meterName, SourceKind.Calibration, part, shape);

    // Months later the meter has moved on.
    private InfluenceSource Drifting(string part, ErrorShape shape) => Source(part, shape) with { Shared = false };

    private sealed class Tally(double[] sensitivities)
    {
        public double[] Sensitivities { get; } = sensitivities;

        public double Amount { get; set; }

        public double Weight { get; set; }

        public double BendJ { get; set; }
    }
}
