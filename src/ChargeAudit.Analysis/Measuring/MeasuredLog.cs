using ChargeAudit.Analysis.Results;

namespace ChargeAudit.Analysis.Measuring;

/// <summary>What was found in a log, and the means to ask it for the energy of any other stretch.</summary>
/// <param name="Result">What was found.</param>
/// <param name="Energies">Energies of stretches.</param>
public sealed record MeasuredLog(LogMeasurement Result, EnergyEstimator Energies);
