using ChargeAudit.Metrology.Diagnostics;

namespace ChargeAudit.Analysis.Measuring;

/// <summary>The stable ids of faults.</summary>
public static class FaultWords
{
    /// <summary>The id of a kind: <c>time-backwards</c>.</summary>
    public static string Of(FaultKind kind) => string.Concat(
        kind.ToString().Select((c, i) => i > 0 && char.IsUpper(c) ? $"-{char.ToLowerInvariant(c)}" : $"{char.ToLowerInvariant(c)}"));
}
