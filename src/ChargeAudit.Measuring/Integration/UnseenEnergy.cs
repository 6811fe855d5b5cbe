namespace ChargeAudit.Measuring.Integration;

/// <summary>
/// What may have flowed between rows without showing in them, spread over the time in which it may have flowed, so that any stretch of the log has its own part of it.
/// Joins like the envelope whose grid it uses. Mutable while a log is read; not safe for concurrent writers.
/// </summary>
/// <param name="cells">The grid: the integral of power holds what lies on one side, that of voltage the variances.</param>
internal sealed class UnseenEnergy(PowerEnvelope cells)
{
    private readonly PowerEnvelope _cells = cells;

    /// <summary>Adds energy that may have flowed in part or whole, all of it in the same sense for all stretches: a taper lies on one side of the held values.</summary>
    /// <param name="fromS">Start. [s]</param>
    /// <param name="toS">End. [s]</param>
    /// <param name="energyJ">The energy, with its sign. [J]</param>
    public void AddOneWay(double fromS, double toS, double energyJ) =>
        _cells.AddInterval(new PowerInterval(fromS, toS, energyJ / (toS - fromS), energyJ / (toS - fromS)));

    /// <summary>Adds an error that is independent of those of all other stretches.</summary>
    /// <param name="fromS">Start. [s]</param>
    /// <param name="toS">End. [s]</param>
    /// <param name="varianceJ2">Its variance. [J²]</param>
    public void AddIndependent(double fromS, double toS, double varianceJ2) =>
        _cells.AddInterval(new PowerInterval(fromS, toS, 0, 0, varianceJ2 / (toS - fromS)));

    /// <summary>Energy that may lie between nothing and this, on one side. [J]</summary>
    public double OneWayBetweenJ(double fromS, double toS) => _cells.EnergyBetweenJ(fromS, toS);

    /// <summary>Standard uncertainty by the independent errors. [J]</summary>
    public double StandardBetweenJ(double fromS, double toS) => Math.Sqrt(Math.Max(0, _cells.VoltSecondsBetween(fromS, toS)));

    /// <summary>Takes in that of the piece that follows, which is left as it is.</summary>
    public void Join(UnseenEnergy piece) => _cells.Join(piece._cells);

    /// <summary>A copy that shares nothing with this one.</summary>
    public UnseenEnergy Clone() => new(_cells.Clone());

    /// <summary>An empty one for a later piece of the log.</summary>
    public UnseenEnergy ForLaterPiece() => new(_cells.ForLaterPiece());
}
