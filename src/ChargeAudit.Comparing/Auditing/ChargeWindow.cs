using ChargeAudit.Measuring;
using ChargeAudit.Measuring.Segmentation;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Studies;

namespace ChargeAudit.Comparing.Auditing;

/// <summary>Decides which stretch of a log is the charge of a run.</summary>
internal static class ChargeWindow
{
    /// <summary>The charge of a run in one of its logs.</summary>
    /// <exception cref="InputException">The log holds no charge, or several, and the study does not say which.</exception>
    public static ModeSpan Of(Run run, MeasuredLog measured)
    {
        var log = measured.Result;
        var charges = log.Modes.Where(m => m.Span.Mode == Mode.Charge).ToList();
        if (charges.Count == 0)
        {
            throw Refuse(
                $"{log.Files[0]}: no charge was found in it, and run {run.Id} needs one; check that this is the right log, or give the run "
                + $"exclude = \"why\"", Remedy.Inspect);
        }

        var charge = Choose(run, log, charges);
        return run.FullAt is null ? charge : UntilFull(run, log, charge);
    }

    private static ModeSpan Choose(Run run, LogMeasurement log, List<ModeResult> charges)
    {
        if (run.Session is { } number)
        {
            return number <= charges.Count
                ? charges[number - 1].Span
                : throw Refuse(
                    $"{log.Files[0]}: run {run.Id} names session {number}, and the log holds {charges.Count}; correct session in the "
                        + $"study");
        }

        double greatest = charges.Max(c => c.Energy.Value);
        var real = charges.Where(c => c.Energy.Value >= FalseStart.LargestShare * greatest).ToList();
        return real.Count == 1
            ? real[0].Span
            : throw Refuse(
                $"{log.Files[0]}: it holds {real.Count} charges, and run {run.Id} does not say which; add session = 1 (to "
                + $"{charges.Count}), or from and to");
    }

    // The device knows best when it is full; its clock is read to the second.
    private static ModeSpan UntilFull(Run run, LogMeasurement log, ModeSpan charge)
    {
        double full = LogMeasurer.SecondsOf(run.FullAt, log.Layout, log.Files[0], "full-at")!.Value;
        return full > charge.StartS && full <= log.Envelope.StartS(log.Envelope.Count)
            ? charge with { EndS = full, EndUncertaintyS = 1 }
            : throw Refuse(
                $"{log.Files[0]}: full-at of run {run.Id} lies outside its charge, which starts {charge.StartS:F0} s into the log; "
                    + $"correct full-at in the study");
    }

    private static InputException Refuse(InvariantText sentence, Remedy remedy = Remedy.None) =>
        new(InputProblem.Unusable, sentence.ToStringAndClear()) { Remedy = remedy };
}
