using ChargeAudit.Logs;
using ChargeAudit.Measuring.Integration;
using ChargeAudit.Metrology.Diagnostics;

namespace ChargeAudit.Measuring.Damage;

/// <summary>
/// A separate reading, row by row, of a log whose times were found odd: which blocks of rows were written before, and where the time stood
/// still. A log whose times are in order is never read so. Mutable; one reading.
/// </summary>
internal sealed class SecondLook(SummaryRules rules)
{
    /// <summary>Blocks of rows that were written before.</summary>
    public RepeatedRows Repeated { get; } = new(rules);

    /// <summary>Rows over which the time stood still.</summary>
    public StoppedClock Stopped { get; } = new(rules);

    /// <summary>Whether faults of a first reading ask for it.</summary>
    public static bool IsNeeded(IReadOnlyList<Fault> faults) =>
        faults.Any(f => f.Kind == FaultKind.ClockStep || (f.Kind == FaultKind.TimeDuplicate && f.Count >= StoppedClock.LeastRows));

    /// <summary>Takes the samples of a reading.</summary>
    public readonly record struct Sink(SecondLook Look) : ISampleSink
    {
        /// <inheritdoc/>
        public void Add(in Sample sample)
        {
            Look.Repeated.Add(in sample);
            Look.Stopped.Add(in sample);
        }
    }
}
