namespace ChargeAudit.Metrology.Diagnostics;

/// <summary>
/// What would put an input right, where the calling program has its own name for it: an option, a command, a field. A message says what is
/// wrong in words that hold everywhere; the calling program adds that name.
/// </summary>
public enum Remedy
{
    /// <summary>Nothing beyond what the message says.</summary>
    None,

    /// <summary>Look at how the log is read.</summary>
    Inspect,

    /// <summary>Say which columns hold what.</summary>
    Columns,

    /// <summary>Say which series of a long table is meant.</summary>
    Series,

    /// <summary>Name the zone of local times.</summary>
    TimeZone,

    /// <summary>Say whether dates begin with the day or the month.</summary>
    DateOrder,

    /// <summary>Say that the sensor faces the other way.</summary>
    Sign,

    /// <summary>Accept gaps.</summary>
    Gaps,

    /// <summary>Read without being strict.</summary>
    Strict,

    /// <summary>Name logs of both kinds of charging.</summary>
    LogsOfBothKinds,

    /// <summary>Give a margin.</summary>
    Margin,

    /// <summary>Name another file for the history.</summary>
    History,

    /// <summary>Give the power of a charge.</summary>
    ChargePower,

    /// <summary>Give the step of the readings.</summary>
    Step,

    /// <summary>Give the scatter between runs.</summary>
    Repeatability,

    /// <summary>Name another place for the output.</summary>
    Output,

    /// <summary>Name another place for the output, or have what lies there replaced.</summary>
    Overwrite,

    /// <summary>Name another place for a chart.</summary>
    Chart,

    /// <summary>Name another place for the pictures of a trend.</summary>
    Trend,

    /// <summary>Give the fixed interval between rows of a log that holds no time.</summary>
    Interval,

    /// <summary>Summarize the log again, with its measuring point.</summary>
    Summarize,
}
