namespace ChargeAudit.Studies;

/// <summary>
/// What an external power supply gives out; the limits differ. <i>Source:</i> Regulation (EU) 2019/1782, article 2 (low-voltage: below 6 V
/// and at least 550 mA; multiple: more than one output at the same time, 2(3)).
/// </summary>
public enum SupplyKind
{
    /// <summary>Alternating voltage.</summary>
    AcAc,

    /// <summary>One direct voltage.</summary>
    AcDc,

    /// <summary>One voltage below 6 V at 550 mA or more.</summary>
    LowVoltage,

    /// <summary>More than one output at the same time; one output that switches its voltage does not count as several.</summary>
    MultipleVoltage,
}
