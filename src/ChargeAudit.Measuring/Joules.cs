namespace ChargeAudit.Measuring;

/// <summary>Joules per other units of energy.</summary>
internal static class Joules
{
    /// <summary>A watt over an hour. [J/Wh]</summary>
    public const double PerWattHour = 3600;
}
