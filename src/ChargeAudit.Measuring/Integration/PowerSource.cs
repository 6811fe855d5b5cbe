namespace ChargeAudit.Measuring.Integration;

/// <summary>Which columns give real power.</summary>
public enum PowerSource
{
    /// <summary>A column of real power.</summary>
    PowerColumn,

    /// <summary>Voltage times current, on direct current only.</summary>
    DirectCurrentProduct,

    /// <summary>Voltage times current times power factor.</summary>
    ProductWithPowerFactor,

    /// <summary>Apparent power times power factor.</summary>
    ApparentWithPowerFactor,

    /// <summary>Differences of an energy counter; no power between its steps.</summary>
    EnergyCounter,
}
