using ChargeAudit.Checking.Documents;
using ChargeAudit.Reports.Json;

namespace ChargeAudit.Reports.Bundles;

/// <summary>Bundles in JSON.</summary>
public static class BundleJson
{
    /// <summary>What was written; it ends with a line feed.</summary>
    /// <param name="path">The archive.</param>
    /// <param name="sha256">The hash that stands for it.</param>
    /// <param name="files">Its files below the study's folder.</param>
    public static string Written(string path, string sha256, IReadOnlyList<string> files) =>
        ReportContext.Text(new BundleDocument(SchemaNames.Bundle, path, sha256, files));

    /// <summary>What a verification found; it ends with a line feed.</summary>
    /// <param name="path">The archive.</param>
    /// <param name="verification">What was found.</param>
    public static string Verified(string path, BundleVerification verification)
    {
        ArgumentNullException.ThrowIfNull(verification);
        return ReportContext.Text(new BundleVerificationDocument(
            SchemaNames.BundleVerification,
            path,
            verification.Sha256,
            verification.MadeWith,
            verification.Holds,
            verification.Damage,
            verification.FiguresCompared,
            [.. verification.Differences.Select(d => new FigureDifferenceDocument(d.Where, d.Was, d.Is, Known.Finite(d.Difference)))]));
    }
}
