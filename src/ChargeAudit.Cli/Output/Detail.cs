namespace ChargeAudit.Cli.Output;

/// <summary>How much an audit prints; the report always holds everything.</summary>
internal enum Detail
{
    /// <summary>What a reader needs to know at once.</summary>
    Short,

    /// <summary>How figures were obtained, what moves them, and published limits as well.</summary>
    Full,
}
