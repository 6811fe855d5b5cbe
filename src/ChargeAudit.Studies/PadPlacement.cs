namespace ChargeAudit.Studies;

/// <summary>Whether a pad has a feature (peg, cradle, magnet) that puts the device in the same place each time. From memory of appendix
/// Y1.</summary>
public enum PadPlacement
{
    /// <summary>Charged by cable: no pad.</summary>
    Wired,

    /// <summary>The device can only lie in one place.</summary>
    FixedLocation,

    /// <summary>The device can lie anywhere on it: only the no-battery power is represented.</summary>
    OpenPlacement,
}
