namespace ChargeAudit.LogMaker.Meters;

/// <summary>One row as the meter writes it; what the meter does not write is NaN.</summary>
/// <param name="TimeS">Since the log began, by the meter's clock. [s]</param>
/// <param name="PowerW">[W]</param>
/// <param name="Voltage">[V]</param>
/// <param name="Current">[A]</param>
/// <param name="CounterWh">[Wh]</param>
public readonly record struct LogRow(double TimeS, double PowerW, double Voltage, double Current, double CounterWh);
