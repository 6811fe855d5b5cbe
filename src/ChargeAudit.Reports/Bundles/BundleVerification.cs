namespace ChargeAudit.Reports.Bundles;

/// <summary>What the verification of a bundle found.</summary>
/// <param name="Sha256">The hash that stands for it.</param>
/// <param name="Damage">Files that are not as the bundle's lists say, as sentences; the audit is not repeated then.</param>
/// <param name="FiguresCompared">Numbers of the old results that were compared with the new ones. [1]</param>
/// <param name="Differences">What differs, one entry a value.</param>
/// <param name="MadeWith">Version of the program that made it.</param>
public sealed record BundleVerification(
    string Sha256, IReadOnlyList<string> Damage, int FiguresCompared, IReadOnlyList<FigureDifference> Differences, string MadeWith)
{
    /// <summary>Whether every byte and every figure is as it was.</summary>
    public bool Holds => Damage.Count == 0 && Differences.Count == 0;
}

/// <summary>A value of results.json that came out differently.</summary>
/// <param name="Where">Its place, such as <c>methods[1].points.wall.energyPerCharge.value</c>.</param>
/// <param name="Was">What the bundle says; null where it says nothing.</param>
/// <param name="Is">What came out now; null where nothing did.</param>
/// <param name="Difference">Now less then, where both are numbers; null where not.</param>
public sealed record FigureDifference(string Where, string? Was, string? Is, double? Difference);
