namespace ChargeAudit.Reports.Json;

/// <summary>A bundle that was written.</summary>
internal sealed record BundleDocument(string Schema, string File, string Sha256, IReadOnlyList<string> Files);

/// <summary>A bundle that was verified.</summary>
internal sealed record BundleVerificationDocument(
    string Schema,
    string File,
    string Sha256,
    string MadeWith,
    bool Holds,
    IReadOnlyList<string> Damage,
    int FiguresCompared,
    IReadOnlyList<FigureDifferenceDocument> Differences);

/// <summary>A value that came out differently; was and is are JSON as text, null where there is none.</summary>
internal sealed record FigureDifferenceDocument(string Where, string? Was, string? Is, double? Difference);
