using ChargeAudit.Measuring.Integration;
using ChargeAudit.Measuring.Segmentation;

namespace ChargeAudit.Measuring;

/// <summary>What was found in a log, and the means to ask it for the energy of any other stretch.</summary>
/// <param name="Result">What was found.</param>
/// <param name="Energies">Energies of stretches.</param>
/// <param name="Finding">Its modes with the levels and the noise behind them.</param>
public sealed record MeasuredLog(LogMeasurement Result, EnergyEstimator Energies, ModeFinding Finding)
{
    /// <summary>
    /// Leaves the log's power over time to a shelf that many logs share, so that memory does not grow with their number. Everything can
    /// still be asked for, and the answers are the same. Call it before other threads use the log.
    /// </summary>
    /// <param name="shelf">The shelf.</param>
    public void PutAway(CellShelf shelf)
    {
        ArgumentNullException.ThrowIfNull(shelf);
        Energies.Rest(shelf);
    }
}
