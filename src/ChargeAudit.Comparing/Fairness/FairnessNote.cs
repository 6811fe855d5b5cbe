using ChargeAudit.Metrology.Diagnostics;

namespace ChargeAudit.Comparing.Fairness;

/// <summary>A reason why runs may not be comparable.</summary>
/// <param name="Id">Stable kebab-case id, such as <c>different-end-state</c>.</param>
/// <param name="Text">What was found and what it means, in plain words.</param>
/// <param name="Runs">Ids of the runs it refers to.</param>
public sealed record FairnessNote(string Id, string Text, IReadOnlyList<string> Runs)
{
    /// <summary>How much it matters: most notes speak against the comparison alone.</summary>
    public Gravity Gravity { get; init; } = Gravity.Unfair;
}
