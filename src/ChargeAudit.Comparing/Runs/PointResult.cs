using ChargeAudit.Metrology.Repeats;
using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.Comparing.Runs;

/// <summary>A method's figures at one measuring point.</summary>
/// <param name="EnergyPerCharge">Mean over the runs that count. [Wh]</param>
/// <param name="RunEnergiesWh">Energy of each run that counts. [Wh]</param>
/// <param name="ChargeDurationS">Mean length of the charge. [s]</param>
/// <param name="MaintenancePower">Power while full and still connected. [W]</param>
/// <param name="NoLoadPower">Power while waiting with no device. [W]</param>
public sealed record PointResult(
    Figure EnergyPerCharge, IReadOnlyList<double> RunEnergiesWh, double ChargeDurationS, Figure MaintenancePower, Figure NoLoadPower)
{
    /// <summary>What a calibration of the meter added to the no-load power as read; null where none counts. [W]</summary>
    public double? NoLoadCorrectionW { get; init; }

    /// <summary>The scatter of the energies within and between blocks of runs; null where it was not stated which run was made in which.
    /// [Wh]</summary>
    public BlockScatter? Blocks { get; init; }

    /// <summary>How the stand-by powers were obtained, and what to think of them, in sentences.</summary>
    public IReadOnlyList<string> StandbyNotes { get; init; } = [];
}
