namespace ChargeAudit.Metrology.Diagnostics;

/// <summary>A reason not to trust a figure.</summary>
/// <param name="Gravity">How much it matters.</param>
/// <param name="Text">One or a few plain sentences.</param>
public readonly record struct Doubt(Gravity Gravity, string Text)
{
    /// <summary>A sentence counts as grave unless whoever makes it says otherwise.</summary>
    /// <param name="text">The sentence.</param>
    public static implicit operator Doubt(string text) => new(Gravity.Wrong, text);
}
