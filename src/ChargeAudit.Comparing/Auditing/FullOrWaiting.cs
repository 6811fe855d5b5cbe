using ChargeAudit.Comparing.Runs;
using ChargeAudit.Logs;
using ChargeAudit.Measuring;
using ChargeAudit.Measuring.Segmentation;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.Comparing.Auditing;

/// <summary>
/// Whether what follows a charge is the full device or the waiting charger. Where the same log shows both levels and they cannot be told
/// apart, the device may have been taken off, and the mean power is not one of the full device.
/// </summary>
internal static class FullOrWaiting
{
    /// <summary>The runs that show the full device. Where some show it clearly, one that takes no less than these do shows it, too, however
    /// uncertain its own mean is: a waiting charger would take less. Without it the mean of the others would pass for certain.</summary>
    /// <param name="runs">The runs of a method.</param>
    /// <param name="point">The measuring point.</param>
    public static (List<RunResult> Runs, List<Measured> Powers) Shown(IReadOnlyList<RunResult> runs, MeasuringPoint point)
    {
        var clear = runs.Select(r => r.Points[point].Maintenance.Value).OfType<Measured>().ToList();
        double leastW = clear.Count > 0 ? clear.Min(m => m.Value) : double.PositiveInfinity;
        var shown = new List<RunResult>();
        var powers = new List<Measured>();
        foreach (var run in runs)
        {
            var at = run.Points[point];
            if ((at.Maintenance.Value ?? (at.FullOrWaiting is { } open && open.Value >= leastW ? open : null)) is { } power)
            {
                shown.Add(run);
                powers.Add(power);
            }
        }

        return (shown, powers);
    }

    /// <summary>The mean power after the charge, or none where it cannot be told from that of the waiting charger.</summary>
    /// <param name="full">Mean power after the charge. [W]</param>
    /// <param name="modes">Modes of the same log.</param>
    /// <param name="file">The log's name.</param>
    public static Figure Of(Figure full, IReadOnlyList<ModeResult> modes, string file)
    {
        var waiting = modes.Where(m => m.Span.Mode == Mode.NoLoad && m.MeanPower.Value is not null).ToList();
        if (full.Value is not { } power || waiting.Count == 0)
        {
            return full;
        }

        // Errors that the meter makes at both levels cancel: it is one log.
        double seconds = waiting.Sum(m => m.Span.DurationS);
        var level = waiting.Select(m => m.Span.DurationS / seconds * m.MeanPower.Value!).Aggregate((a, b) => a + b);
        var apart = power - level;
        return !apart.IsFarFromZero && apart.Interval() is { } difference && difference.Low <= 0 && difference.High >= 0
            ? Figure.None(Prose.Of(
                $"{file} shows {power.Value:G3} W after the charge and {level.Value:G3} W while waiting, which it cannot tell apart: the "
                + $"device was taken off, or adds nothing when it is full"))
            : full;
    }
}
