namespace ChargeAudit.Measuring;

/// <summary>A point in a log: an absolute time, or seconds from its first sample.</summary>
/// <param name="Absolute">Absolute time; null where <paramref name="ElapsedS"/> is given.</param>
/// <param name="ElapsedS">Seconds from the first sample; null where <paramref name="Absolute"/> is given. [s]</param>
/// <param name="HasOffset">Whether the absolute time was written with an offset; otherwise it is local time of the log.</param>
public sealed record LogTime(DateTimeOffset? Absolute, double? ElapsedS, bool HasOffset);
