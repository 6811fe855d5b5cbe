using ChargeAudit.Logs.Layout;
using ChargeAudit.Logs.Reading;

namespace ChargeAudit.Reports.Json;

/// <summary>A log that was looked at without working out any energy.</summary>
/// <param name="File">The file as the user named it.</param>
/// <param name="Layout">How it was understood.</param>
/// <param name="Outcome">What reading it counted.</param>
/// <param name="DurationS">From the first to the last row. [s]</param>
public sealed record InspectedLog(string File, LogLayout Layout, ReadOutcome Outcome, double DurationS);
