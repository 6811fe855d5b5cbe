using ChargeAudit.Metrology;

namespace ChargeAudit.Logs;

/// <summary>By how much a value must change before a log that is written on change gets a new row.</summary>
/// <param name="Quantity">The quantity that is watched: power or current.</param>
/// <param name="Amount">The change, in the coherent unit; as a share of the reading where <paramref name="IsShare"/>. [coherent unit or
/// 1]</param>
/// <param name="IsShare">Whether it is a share of the reading.</param>
public sealed record ChangeThreshold(LogQuantity Quantity, double Amount, bool IsShare = false)
{
    /// <summary>
    /// Interval at which the logger looks whether something has changed, where the times of its rows show one; zero where they show none. A
    /// change is up to so much older than its row. [s]
    /// </summary>
    public double LookS { get; init; }

    /// <summary>The change of power that goes unwritten at a reading. [W]</summary>
    /// <param name="powerW">Power. [W]</param>
    /// <param name="voltageV">Voltage; zero where unknown. [V]</param>
    public double InPowerW(double powerW, double voltageV) =>
        IsShare ? Amount * Math.Abs(powerW) : Quantity == LogQuantity.Current ? Amount * Math.Abs(voltageV) : Amount;
}
