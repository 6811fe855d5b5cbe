using ChargeAudit.Logs;
using ChargeAudit.Logs.Layout;
using ChargeAudit.Measuring.Integration;
using ChargeAudit.Measuring.Segmentation;
using ChargeAudit.Measuring.Summaries;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.Measuring;

/// <summary>Everything found in one log (or in the files of one log that follow one another).</summary>
public sealed record LogMeasurement
{
    /// <summary>Files as the user named them, in order.</summary>
    public required IReadOnlyList<string> Files { get; init; }

    /// <summary>SHA-256 of each file's bytes, lower-case hexadecimal.</summary>
    public required IReadOnlyList<string> Sha256 { get; init; }

    /// <summary>Where the meter sat; null where it was not stated.</summary>
    public MeasuringPoint? Point { get; init; }

    /// <summary>Name of the meter in the study; null where it was not stated.</summary>
    public string? Meter { get; init; }

    /// <summary>How the log was understood.</summary>
    public required LogLayout Layout { get; init; }

    /// <summary>How real power was obtained, in words: <c>power column</c>, <c>voltage × current</c> …</summary>
    public required string PowerFrom { get; init; }

    /// <summary>Rows that became samples.</summary>
    public required long Rows { get; init; }

    /// <summary>Rows that did not.</summary>
    public required long RowsSkipped { get; init; }

    /// <summary>Faults, one entry for each kind.</summary>
    public required IReadOnlyList<Fault> Faults { get; init; }

    /// <summary>Energy of the whole log. [Wh]</summary>
    public required Measured Energy { get; init; }

    /// <summary>Charge of the whole log; missing where there is no current on DC. [Ah]</summary>
    public required Figure Charge { get; init; }

    /// <summary>From the first to the last sample, intervals of averages included. [s]</summary>
    public required double DurationS { get; init; }

    /// <summary>Energy divided by covered time. [W]</summary>
    public required Measured MeanPower { get; init; }

    /// <summary>Greatest reading. [W]</summary>
    public required double PeakPowerW { get; init; }

    /// <summary>Modes in order, without holes, over the whole log.</summary>
    public required IReadOnlyList<ModeResult> Modes { get; init; }

    /// <summary>Parts of the charges, and the top-ups and attempts around them, in order; they do not cover the log.</summary>
    public IReadOnlyList<ModeDetail> Details { get; init; } = [];

    /// <summary>Charges, each with the maintenance that follows it.</summary>
    public required IReadOnlyList<SessionResult> Sessions { get; init; }

    /// <summary>Difference of the energy counter over the log; null where there is none. [Wh]</summary>
    public double? CounterEnergyWh { get; init; }

    /// <summary>Mean of the log's temperature column; null where it has none. [°C]</summary>
    public double? MeanTemperatureC { get; init; }

    /// <summary>The calibrations that its readings were corrected by, in words; null where there are none.</summary>
    public string? CorrectedBy { get; init; }

    /// <summary>The summary that stood for the log; null where the log itself was read.</summary>
    public SummaryAbout? From { get; init; }

    /// <summary>What to doubt, the gravest first.</summary>
    public required IReadOnlyList<Doubt> Doubts { get; init; }

    /// <summary>Power over time, for charts and further work.</summary>
    public required PowerEnvelope Envelope { get; init; }
}

/// <summary>A stretch of one mode with its figures.</summary>
/// <param name="Span">Which mode, and when.</param>
/// <param name="Energy">Energy over the stretch, from border to border. [Wh]</param>
/// <param name="MeanPower">
/// For a charge its energy divided by covered time; for any other mode the mean of the rows that lie wholly inside it, missing where there
/// are too few. [W]
/// </param>
public sealed record ModeResult(ModeSpan Span, Measured Energy, Figure MeanPower)
{
    /// <summary>Real divided by apparent power over the stretch, from the voltage and current beside the power; null where the log does not
    /// tell. [1]</summary>
    public double? PowerFactor { get; init; }

    /// <summary>What a calibration of the meter added to the energy as read; null where none counts. [Wh]</summary>
    public double? CorrectionWh { get; init; }
}

/// <summary>A stretch of charge, and the maintenance that follows it.</summary>
/// <param name="StartS">Start of the charge. [s]</param>
/// <param name="EndS">End of the charge. [s]</param>
/// <param name="Energy">Energy over the charge. [Wh]</param>
/// <param name="MaintenanceS">Length of the maintenance that follows; zero where none. [s]</param>
public sealed record SessionResult(double StartS, double EndS, Measured Energy, double MaintenanceS)
{
    /// <summary>Length of the charge. [s]</summary>
    public double DurationS => EndS - StartS;
}
