namespace ChargeAudit.Reports.Json;

/// <summary>What is known is in a document; what is not is null, with its reason in the member after it.</summary>
internal static class Known
{
    /// <summary>A number; null where it is not known or not finite.</summary>
    public static double? Finite(double? value) => value is { } number && double.IsFinite(number) ? number : null;

    /// <summary>Why a number is missing; null where it is not.</summary>
    public static string? Unless(double? value, string whyNot) => Finite(value) is null ? whyNot : null;

    /// <summary>Why something is missing; null where it is not.</summary>
    public static string? Unless(object? known, string? whyNot) => known is null ? whyNot ?? "not known" : null;
}
