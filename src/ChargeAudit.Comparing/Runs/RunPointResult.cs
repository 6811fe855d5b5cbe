using ChargeAudit.Measuring;
using ChargeAudit.Measuring.Segmentation;
using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.Comparing.Runs;

/// <summary>One charge as seen at one measuring point.</summary>
/// <param name="Log">The log it comes from.</param>
/// <param name="Meter">Name of the meter; null where it was not stated.</param>
/// <param name="Charge">When the charge ran, within the log.</param>
/// <param name="Energy">Energy over the charge; its uncertainty is the measurement part. [Wh]</param>
/// <param name="Maintenance">Mean power over the maintenance after the charge. [W]</param>
public sealed record RunPointResult(LogMeasurement Log, string? Meter, ModeSpan Charge, Measured Energy, Figure Maintenance)
{
    private ChargeSums? _sums;

    /// <summary>What the rules need to know about power over the charge.</summary>
    internal ChargeSums Sums => _sums is { } known && ReferenceEquals(known.Log, Log) && ReferenceEquals(known.Charge, Charge)
        ? known
        : _sums = ChargeSums.Of(Log, Charge);

    /// <summary>The point with its sums taken at once, while its log is at hand.</summary>
    internal static RunPointResult WithSums(RunPointResult point)
    {
        point._sums = ChargeSums.Of(point.Log, point.Charge);
        return point;
    }

    /// <summary>The modes of the log around this charge, which is one of them; they tile the part of the log that is this run's.</summary>
    public IReadOnlyList<ModeResult> Modes { get; init; } = Log?.Modes ?? [];

    /// <summary>What a calibration of the meter added to the energy as read; null where none counts. [Wh]</summary>
    public double? CorrectionWh { get; init; }

    /// <summary>The same for the power in maintenance. [W]</summary>
    public double? MaintenanceCorrectionW { get; init; }

    /// <summary>Mean power after the charge where this log cannot tell it from the waiting charger's; else null. [W]</summary>
    internal Measured? FullOrWaiting { get; init; }

    /// <summary>How the power in maintenance was obtained, in sentences.</summary>
    public IReadOnlyList<string> MaintenanceNotes { get; init; } = [];
}
