namespace ChargeAudit.Logs.Formats;

/// <summary>Turns a text table of another shape into one with a column for each quantity, a line for each line, so that line numbers stay
/// those of the file.</summary>
internal interface IReshape
{
    /// <summary>The shape that was recognised, for people.</summary>
    string Words { get; }

    /// <summary>What the user should know about it.</summary>
    IReadOnlyList<string> Notes { get; }

    /// <summary>Header and rows, fields separated by tabs; empty lines for what is passed over.</summary>
    /// <param name="path">Name of the log, for messages.</param>
    /// <param name="utf8">The text as it stands, in UTF-8.</param>
    IEnumerable<string> Lines(string path, Stream utf8);
}
