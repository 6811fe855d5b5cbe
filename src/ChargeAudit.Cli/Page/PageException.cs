namespace ChargeAudit.Cli.Page;

/// <summary>A request that cannot be met; the page shows the sentence.</summary>
/// <param name="status">HTTP status.</param>
/// <param name="sentence">One sentence.</param>
public sealed class PageException(int status, string sentence) : Exception(sentence)
{
    /// <summary>HTTP status.</summary>
    public int Status { get; } = status;
}
