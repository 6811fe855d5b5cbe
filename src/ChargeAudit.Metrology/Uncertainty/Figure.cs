namespace ChargeAudit.Metrology.Uncertainty;

/// <summary>A figure that may be missing; then it says why, and no number is printed.</summary>
/// <param name="Value">The figure; null where it cannot be told.</param>
/// <param name="WhyNot">Why there is none, as a sentence without a full stop; null where there is one.</param>
/// <param name="Assumed">What the figure rests on besides measurements, such as an assumed adapter efficiency; null where on nothing
/// else.</param>
public sealed record Figure(Measured? Value, string? WhyNot, string? Assumed = null)
{
    /// <summary>A figure that is known.</summary>
    public static Figure Of(Measured value, string? assumed = null) => new(value, null, assumed);

    /// <summary>What a figure rests on that is worked out from two others.</summary>
    /// <param name="a">What the first rests on; null: on measurements alone.</param>
    /// <param name="b">What the second rests on.</param>
    public static string? Joined(string? a, string? b) => a is null || b is null || a == b ? a ?? b
        : a.Contains(b, StringComparison.Ordinal) ? a
        : b.Contains(a, StringComparison.Ordinal) ? b : $"{a}; {b}";

    /// <summary>A figure that is missing.</summary>
    public static Figure None(string whyNot) => new(null, whyNot);

    /// <inheritdoc/>
    public override string ToString() => Value is null ? $"none: {WhyNot}" : Assumed is null
        ? Value.ToString()
        : $"{Value}, assuming {Assumed}";
}
