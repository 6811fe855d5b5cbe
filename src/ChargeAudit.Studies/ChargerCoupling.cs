namespace ChargeAudit.Studies;

/// <summary>How the battery meets the charger, as far as the US procedure's classes ask.</summary>
public enum ChargerCoupling
{
    /// <summary>By contacts or a cable.</summary>
    Wired,

    /// <summary>By induction, made for a wet place, such as a tooth brush.</summary>
    InductiveWet,

    /// <summary>By induction elsewhere, such as a phone pad: no class covers it.</summary>
    InductiveDry,
}
