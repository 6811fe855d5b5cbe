namespace ChargeAudit.Cli.Page;

/// <summary>A request that cannot be met; the page shows the sentence.</summary>
/// <param name="status">HTTP status.</param>
/// <param name="sentence">One sentence.</param>
/// <param name="meantPrice">The price that was probably meant, where the sentence asks about one.</param>
public sealed class PageException(int status, string sentence, double? meantPrice = null) : Exception(sentence)
{
    /// <summary>HTTP status.</summary>
    public int Status { get; } = status;

    /// <summary>The price that was probably meant; null where nothing is asked.</summary>
    public double? MeantPrice { get; } = meantPrice;
}
