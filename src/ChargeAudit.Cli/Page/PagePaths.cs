namespace ChargeAudit.Cli.Page;

/// <summary>What can be asked for, after the token.</summary>
public static class PagePaths
{
    /// <summary>The page.</summary>
    public const string Start = "";

    /// <summary>The logs that are there: what a page that is loaded again, or a second one, shows.</summary>
    public const string State = "state";

    /// <summary>Takes a log.</summary>
    public const string Log = "log";

    /// <summary>Forgets one log.</summary>
    public const string Remove = "remove";

    /// <summary>Reads one log again, in another way or under another name.</summary>
    public const string Read = "read";

    /// <summary>Keeps what the user said.</summary>
    public const string Say = "say";

    /// <summary>Forgets all logs.</summary>
    public const string Clear = "clear";

    /// <summary>Makes the report.</summary>
    public const string Make = "make";

    /// <summary>The report, to read.</summary>
    public const string Report = "report.html";

    /// <summary>The report, to keep.</summary>
    public const string Save = "save";
}
