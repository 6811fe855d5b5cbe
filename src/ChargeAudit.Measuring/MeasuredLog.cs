using ChargeAudit.Measuring.Segmentation;

namespace ChargeAudit.Measuring;

/// <summary>What was found in a log, and the means to ask it for the energy of any other stretch.</summary>
/// <param name="Result">What was found.</param>
/// <param name="Energies">Energies of stretches.</param>
/// <param name="Finding">Its modes with the levels and the noise behind them.</param>
public sealed record MeasuredLog(LogMeasurement Result, EnergyEstimator Energies, ModeFinding Finding);
