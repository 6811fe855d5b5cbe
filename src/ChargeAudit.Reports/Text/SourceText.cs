using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.Reports.Text;

/// <summary>Sources of uncertainty in words.</summary>
internal static class SourceText
{
    /// <summary>Such as <c>meter bench: voltage gain</c> for the gain of meter bench's voltage.</summary>
    public static string Of(InfluenceSource source)
    {
        string?[] words = [source.Design, InfluenceSource.Word(source.Owner), source.OwnerName];
        string owner = string.Join(' ', words.OfType<string>());
        return source.OwnerName is null
            ? $"{owner} {source.Part.Replace(':', ' ')}".TrimStart()
            : $"{owner}: {source.Part.Replace('-', ' ').Replace("stand by", "stand-by", StringComparison.Ordinal)}";
    }
}
