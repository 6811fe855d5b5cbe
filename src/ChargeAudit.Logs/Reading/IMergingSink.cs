namespace ChargeAudit.Logs.Reading;

/// <summary>
/// A sink of which each piece of a log can fill one of its own, side by side on several cores; joined in their order, they hold what one
/// sink would. A reader may use this or hand over all samples one by one: the result must be the same.
/// </summary>
/// <typeparam name="TSelf">The sink itself.</typeparam>
public interface IMergingSink<TSelf> : ISampleSink, IRowBlockSink
    where TSelf : struct
{
    /// <summary>An empty sink for a piece of the log that comes after what this one has taken so far. Called while nothing is added to this
    /// one.</summary>
    /// <param name="spent">A piece that was joined and is no longer needed, whose memory may be used again; the default value where there
    /// is none.</param>
    TSelf ForLaterPiece(in TSelf spent);

    /// <summary>Adds the piece that follows what this one has taken so far.</summary>
    void Join(in TSelf piece);
}

/// <summary>Takes samples many at a time.</summary>
public interface IRowBlockSink
{
    /// <summary>Takes the next rows; the same as all of them one by one.</summary>
    void Add(in RowBlock rows);
}
