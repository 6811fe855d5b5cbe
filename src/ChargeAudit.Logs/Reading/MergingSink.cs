namespace ChargeAudit.Logs.Reading;

/// <summary>Reaches the pieces of a sink that can be merged, where it is only known as a sink; once per piece, so that boxing does not
/// matter.</summary>
internal static class MergingSink
{
    /// <summary>An empty sink for a later piece; false where the sink cannot be merged.</summary>
    /// <param name="sink">The sink of the log so far.</param>
    /// <param name="spent">The sink of an earlier piece that is no longer needed; the default value where there is none.</param>
    /// <param name="fork">The empty sink.</param>
    public static bool TryFork<TSink>(in TSink sink, in TSink spent, out TSink fork)
        where TSink : struct, ISampleSink
    {
        bool merges = sink is IMergingSink<TSink>;
        fork = merges ? ((IMergingSink<TSink>)sink).ForLaterPiece(in spent) : default;
        return merges;
    }

    /// <summary>Joins a piece that <see cref="TryFork"/> began.</summary>
    public static void Join<TSink>(ref TSink sink, in TSink piece)
        where TSink : struct, ISampleSink
    {
        // The box is a copy: what the sink changes of itself must come back.
        var joined = (IMergingSink<TSink>)sink;
        joined.Join(in piece);
        sink = (TSink)joined;
    }
}
