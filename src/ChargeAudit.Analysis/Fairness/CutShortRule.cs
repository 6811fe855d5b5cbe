using ChargeAudit.Analysis.Results;
using static ChargeAudit.Analysis.Fairness.FairnessNotes;

namespace ChargeAudit.Analysis.Fairness;

/// <summary>A log that ends while the charge still runs. Id <c>cut-short</c>.</summary>
internal sealed class CutShortRule : IFairnessRule
{
    /// <summary>Above this share of the mean power a charge is not over. [1]</summary>
    private const double OverShare = 0.15;

    public IEnumerable<FairnessNote> Judge(FairnessInput input)
    {
        var cut = new List<RunResult>();
        foreach (var run in input.Counted.SelectMany(c => c.Runs))
        {
            if (run.Points.Values.Any(IsCut))
            {
                cut.Add(run);
            }
        }

        if (cut.Count > 0)
        {
            yield return new FairnessNote(
                "cut-short",
                "The log ends before the power of the charge has fallen, so part of the charge is missing from its energy; let it run until the device is full.",
                Ids(cut));
        }
    }

    private static bool IsCut(RunPointResult point)
    {
        var envelope = point.Log.Envelope;
        double end = Math.Min(point.Charge.EndS, point.Log.DurationS);
        double last = Math.Max(5 * point.Log.Layout.MedianIntervalS, 0.02 * point.Charge.DurationS);
        bool atLogsEnd = point.Charge.EndS >= point.Log.DurationS - (2 * Math.Max(envelope.BucketWidthS, point.Log.Layout.MedianIntervalS));
        double atEnd = envelope.EnergyBetweenJ(end - last, end) / last;
        double mean = envelope.EnergyBetweenJ(point.Charge.StartS, end) / Math.Max(1e-9, end - point.Charge.StartS);
        return atLogsEnd && atEnd > OverShare * mean;
    }
}
