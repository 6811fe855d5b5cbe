using ChargeAudit.Logs;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Calibration;
using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.Measuring;

/// <summary>A meter: where it sits, how it samples and how well.</summary>
public sealed record Meter
{
    /// <summary>No accuracy at all.</summary>
    internal static IReadOnlyDictionary<LogQuantity, MeterAccuracy> Unknown { get; } = new Dictionary<LogQuantity, MeterAccuracy>();

    /// <summary>Its name in the study.</summary>
    public required string Name { get; init; }

    /// <summary>Key of the instrument that the name stands for; the same key in another study is the same instrument. Null: not
    /// stated.</summary>
    public string? Instrument { get; init; }

    /// <summary>How its logs are read.</summary>
    public LogOptions Options { get; init; } = new();

    /// <summary>Accuracy per quantity as the data sheet gives it; empty: unknown.</summary>
    public IReadOnlyDictionary<LogQuantity, MeterAccuracy> Accuracy { get; init; } = Unknown;

    /// <summary>Its calibrations: corrections of its readings, and what they are worth; empty: none.</summary>
    public IReadOnlyList<MeterCalibration> Calibrations { get; init; } = [];

    /// <summary>What is stated of the phase between voltage and current, for the mains; empty: nothing. The widest of them
    /// counts.</summary>
    public IReadOnlyList<PhaseAccuracy> Phase { get; init; } = [];

    /// <summary>Power factor of what it measures, where its logs do not tell; null: not stated. [1]</summary>
    public double? PowerFactor { get; init; }

    /// <summary>Where its stated accuracy ends.</summary>
    public MeterLimits Limits { get; init; } = new();

    /// <summary>Resistance that it puts into the line. [Ω]</summary>
    public double? BurdenOhm { get; init; }

    /// <summary>What it takes for itself. [W]</summary>
    public double? SelfPowerW { get; init; }

    /// <summary>The point whose reading includes <see cref="SelfPowerW"/>.</summary>
    public MeasuringPoint? SelfPowerFrom { get; init; }
}
