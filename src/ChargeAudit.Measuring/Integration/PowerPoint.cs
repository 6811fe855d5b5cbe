namespace ChargeAudit.Measuring.Integration;

/// <summary>A sample as the sums need it.</summary>
/// <param name="TimeS">Time from the log's first sample. [s]</param>
/// <param name="PowerW">Real power; NaN for a log that holds only a counter. [W]</param>
/// <param name="VoltageV">Voltage; zero where unknown. [V]</param>
/// <param name="CurrentA">Current; zero where unknown. [A]</param>
/// <param name="CounterJ">Energy counter; NaN where unknown. [J]</param>
/// <param name="Line">Line number.</param>
/// <param name="AfterClockStep">Whether the clock was set just before.</param>
internal readonly record struct PowerPoint(
    double TimeS, double PowerW, double VoltageV, double CurrentA, double CounterJ, long Line, bool AfterClockStep);
