using ChargeAudit.Logs.Dialects;
using ChargeAudit.Logs.Sources;
using ChargeAudit.Logs.Streams;

namespace ChargeAudit.Logs.Reading;

/// <summary>
/// Looks at the beginning of a pipe while the rest is still coming: it may never end. Whether a text holds a table can be told from its
/// beginning; another format cannot be read before its end and is refused after a bound.
/// </summary>
internal static class PipedLog
{
    /// <summary>Looks at a copy that is being made.</summary>
    /// <param name="path">Name for messages.</param>
    /// <param name="begun">The copy so far.</param>
    /// <param name="bytes">How much it is. [byte]</param>
    /// <exception cref="Metrology.Diagnostics.InputException">The rest need not be waited for.</exception>
    public static void Look(string path, Spool begun, long bytes)
    {
        LogSource source = LogSource.Begun(path, begun);
        if (source.Converts && bytes >= LogLimits.MostPipedBytes)
        {
            throw LogErrors.PipedTooLong(path, LogLimits.MostPipedBytes);
        }

        // The first look takes no more than this from the head of a file either.
        if (!source.Converts && bytes < 2 * Spool.LookAtBytes)
        {
            TableFinder.Find(path, TextSample.Take(source), oneColumn: true, told: null);
        }
    }
}
