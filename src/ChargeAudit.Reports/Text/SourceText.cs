namespace ChargeAudit.Reports.Text;

/// <summary>Sources of uncertainty in words.</summary>
internal static class SourceText
{
    /// <summary>From an id such as <c>meter:bench/voltage-gain</c>: <c>meter bench: voltage gain</c>.</summary>
    public static string Of(string id)
    {
        int slash = id.LastIndexOf('/');
        string owner = slash < 0 ? "" : id[..slash].Replace(':', ' ').Replace("/", ", ", StringComparison.Ordinal);
        string what = id[(slash + 1)..];
        what = slash < 0 ? what.Replace(':', ' ') : what.Replace('-', ' ').Replace("stand by", "stand-by", StringComparison.Ordinal);
        return owner.Length == 0 ? what : $"{owner}: {what}";
    }
}
