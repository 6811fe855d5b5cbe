namespace ChargeAudit.Measuring.Integration;

/// <summary>
/// What may have flowed between rows without showing in them, spread over the time in which it may have flowed, so that any stretch of the
/// log has its own part of it. Joins like the envelope whose grid it uses. Mutable while a log is read; not safe for concurrent writers.
/// </summary>
/// <param name="cells">The grid: the integral of power holds what lies on one side, that of current the same without its sign, that of
/// voltage the variances.</param>
internal sealed class UnseenEnergy(PowerEnvelope cells)
{
    private readonly PowerEnvelope _cells = cells;

    /// <summary>Adds energy that may have flowed in part or whole, all of it in the same direction for all stretches: a taper lies on one
    /// side of the held values, the further the later.</summary>
    /// <param name="fromS">Start. [s]</param>
    /// <param name="toS">End. [s]</param>
    /// <param name="changeW">How far power may have gone from the held value when the next was written, with its sign. [W]</param>
    public void AddOneWay(double fromS, double toS, double changeW) =>
        _cells.AddInterval(new PowerInterval(fromS, toS, 0, changeW, 0, 0.5 * Math.Abs(changeW)));

    /// <summary>Adds an error that is independent of those of all other stretches.</summary>
    /// <param name="fromS">Start. [s]</param>
    /// <param name="toS">End. [s]</param>
    /// <param name="varianceJ2">Its variance. [J²]</param>
    public void AddIndependent(double fromS, double toS, double varianceJ2) =>
        _cells.AddInterval(new PowerInterval(fromS, toS, 0, 0, varianceJ2 / (toS - fromS)));

    /// <summary>
    /// The course of power with straight lines through tapers, where the energies take the middle between those and the held values: so a
    /// fall shows as one, without a step at every row.
    /// </summary>
    /// <param name="held">Power over time as it is summed.</param>
    public PowerEnvelope WithStraightTapers(PowerEnvelope held)
    {
        var course = held.Clone();
        double endS = course.StartS(course.Count);
        for (int i = 0; i < _cells.Count; i++)
        {
            double fromS = Math.Max(_cells.StartS(i), course.OriginS);
            double toS = Math.Min(_cells.StartS(i + 1), endS);
            if (_cells[i].EnergyJ.Value is not 0 and var oneWayJ && fromS < toS)
            {
                double moreW = 0.5 * oneWayJ / _cells.BucketWidthS;
                course.Correct(new PowerInterval(fromS, toS, moreW, moreW));
            }
        }

        return course;
    }

    /// <summary>Energy that may lie between nothing and this, on one side. [J]</summary>
    public double OneWayBetweenJ(double fromS, double toS) => _cells.EnergyBetweenJ(fromS, toS);

    /// <summary>Likewise with rises and falls added up, as neither makes up for the other. [J]</summary>
    public double EitherWayBetweenJ(double fromS, double toS) => _cells.ChargeBetweenC(fromS, toS);

    /// <summary>Standard uncertainty by the independent errors. [J]</summary>
    public double StandardBetweenJ(double fromS, double toS) => Math.Sqrt(Math.Max(0, _cells.VoltSecondsBetween(fromS, toS)));

    /// <summary>Adds that of the piece that follows, which is left as it is.</summary>
    public void Join(UnseenEnergy piece) => _cells.Join(piece._cells);

    /// <summary>A copy that shares nothing with this one.</summary>
    public UnseenEnergy Clone() => new(_cells.Clone());

    /// <summary>Leaves its cells to a shelf; nothing may be added from then on.</summary>
    public void Rest(CellShelf shelf) => _cells.Rest(shelf);

    /// <summary>All that it holds.</summary>
    public EnvelopeState State() => _cells.State();

    /// <summary>The one that such a state was taken of.</summary>
    public static UnseenEnergy Of(EnvelopeState state) => new(PowerEnvelope.Of(state));

    /// <summary>An empty one for a later piece of the log.</summary>
    public UnseenEnergy ForLaterPiece() => new(_cells.ForLaterPiece());
}
