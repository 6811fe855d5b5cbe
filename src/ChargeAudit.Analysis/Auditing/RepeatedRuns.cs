using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.Analysis.Auditing;

/// <summary>The mean of repeated measurements of one thing.</summary>
internal static class RepeatedRuns
{
    /// <summary>The mean, with what the meters bring and what the scatter shows.</summary>
    public static Measured Mean(IReadOnlyList<Measured> runs, string sourceId)
    {
        int n = runs.Count;
        double mean = runs.Average(r => r.Value);
        var combined = Measured.Combine(mean, runs[0].Unit, runs.Select(r => (1.0 / n, r)));
        if (n == 1)
        {
            return combined;
        }

        double deviation = Math.Sqrt(runs.Sum(r => (r.Value - mean) * (r.Value - mean)) / (n - 1));
        return combined.Plus(new UncertaintyComponent(new InfluenceSource(sourceId, n - 1), deviation / Math.Sqrt(n)));
    }
}
