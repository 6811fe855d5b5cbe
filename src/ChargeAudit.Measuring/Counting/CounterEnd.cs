namespace ChargeAudit.Measuring.Counting;

/// <summary>Where a charge ends by its counter.</summary>
/// <param name="EndS">End of the charge. [s]</param>
/// <param name="UncertaintyS">Its standard uncertainty. [s]</param>
/// <param name="FullW">Power of the level that follows; null where a charge that went on falling would not have shown itself, and the
/// end lies anywhere up to <paramref name="RemovedS"/>. [W]</param>
/// <param name="RemovedS">Where the full device's level ends; the end of the stretch where it goes on. [s]</param>
/// <param name="RemovedUncertaintyS">Its standard uncertainty; zero at the end of the stretch. [s]</param>
/// <param name="AfterW">Power after that; null where the level goes on to the end. [W]</param>
/// <param name="IsLow">Whether power is low at the end.</param>
/// <param name="MayStay">Whether the full device's level may go on to the end of the stretch as well.</param>
internal readonly record struct CounterEnd(double EndS, double UncertaintyS, double? FullW, double RemovedS, double RemovedUncertaintyS,
    double? AfterW, bool IsLow = true, bool MayStay = false)
{
    /// <summary>Where the full device showed in a wide band only: unless the level after it is known to be the waiting charger's, it may be
    /// the full device's, and the charge ends anywhere from the first time to the second; null elsewhere. [s]</summary>
    public (double FromS, double ToS)? Doubted { get; init; }
}
