namespace ChargeAudit.Logs;

/// <summary>What a user would have to say about the columns so that a refused log is read.</summary>
/// <param name="Sentence">What to do, with the key of a study.</param>
/// <param name="Option">The same as the value of an option; null where that does not help.</param>
/// <param name="HasTime">Whether one of the columns may be the time.</param>
internal sealed record ColumnsHint(string Sentence, string? Option, bool HasTime);
