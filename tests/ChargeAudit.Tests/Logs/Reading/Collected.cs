using ChargeAudit.Logs;

namespace ChargeAudit.Tests.Logs.Reading;

/// <summary>A sink that keeps all samples, for logs of test size.</summary>
internal readonly struct Collected() : ISampleSink
{
    public List<Sample> Samples { get; } = [];

    public void Add(in Sample sample) => Samples.Add(sample);
}
