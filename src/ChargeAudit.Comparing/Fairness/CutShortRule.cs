using ChargeAudit.Comparing.Runs;
using ChargeAudit.Measuring.Segmentation;
using ChargeAudit.Metrology.Diagnostics;
using static ChargeAudit.Comparing.Fairness.FairnessNotes;

namespace ChargeAudit.Comparing.Fairness;

/// <summary>A log that ends while the charge still runs, or a device that was taken off while it still charged. Id
/// <c>cut-short</c>.</summary>
internal sealed class CutShortRule : IFairnessRule
{
    /// <summary>Above this share of the mean power a charge is not over. [1]</summary>
    private const double OverShare = 0.15;

    /// <summary>Above this share of the mean power a charge that goes straight to waiting was ended from outside; a device that has no
    /// taper stays connected. [1]</summary>
    private const double TakenOffShare = 0.5;

    public IEnumerable<FairnessNote> Judge(FairnessInput input)
    {
        var runs = input.Counted.SelectMany(c => c.Runs).ToList();
        var cut = runs.Where(r => r.Points.Values.Any(IsCut)).ToList();
        if (cut.Count > 0)
        {
            yield return new FairnessNote(
                "cut-short",
                "The log ends before the power of the charge has fallen, so part of the charge is missing from its energy; let it run "
                    + "until the device is full.",
                Ids(cut))
            { Gravity = Gravity.Wrong };
        }

        var taken = runs.Except(cut).Where(r => r.EndChargePercent is null && r.Points.Values.Any(IsTakenOff)).ToList();
        if (taken.Count > 0)
        {
            yield return new FairnessNote(
                "cut-short",
                "The charge goes from more than half its mean power straight to waiting, as when the device is taken off before it is "
                    + "full; then part of the charge is missing from its energy. Let it "
                + "run until the device is full, or say how full it was (end-charge).",
                Ids(taken))
            { Gravity = Gravity.Wrong };
        }
    }

    private static bool IsCut(RunPointResult point)
    {
        double end = EndOf(point);
        return EndsWith(point, end) && point.Sums.ShareAtEnd > OverShare;
    }

    private static bool IsTakenOff(RunPointResult point)
    {
        double end = EndOf(point);
        var next = point.Log.Modes.Select(m => m.Span).Where(s => s.StartS >= end - (2 * GrainS(point))).OrderBy(s => s.StartS)
            .FirstOrDefault();
        return !EndsWith(point, end) && next?.Mode is Mode.NoLoad or Mode.Off && point.Sums.ShareAtEnd > TakenOffShare;
    }

    private static double EndOf(RunPointResult point) => Math.Min(point.Charge.EndS, point.Log.DurationS);

    private static bool EndsWith(RunPointResult point, double end) => end >= point.Log.DurationS - (2 * GrainS(point));

    private static double GrainS(RunPointResult point) => Math.Max(point.Log.Envelope.BucketWidthS, point.Log.Layout.MedianIntervalS);
}
