using ChargeAudit.Logs.Reading;

namespace ChargeAudit.Analysis.Integration;

/// <summary>Hands samples from a reader to a summary.</summary>
/// <param name="Summary">The summary that takes them.</param>
public readonly record struct IntegratingSink(LogSummary Summary) : ISampleSink
{
    /// <inheritdoc/>
    public void Add(in Sample sample) => Summary.Add(sample);
}
