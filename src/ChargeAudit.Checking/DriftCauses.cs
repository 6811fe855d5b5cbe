using ChargeAudit.Studies;

namespace ChargeAudit.Checking;

/// <summary>
/// Tells a design that has changed from a meter that has: the wired reference was measured on the same days with the same meter. Where it
/// has moved since the same check, by as much as the uncertainties allow, the meter (or the room, or the device) has moved, and the design
/// has not.
/// </summary>
internal static class DriftCauses
{
    // Standard uncertainties that two shifts may lie apart and count as one, or one from zero and count as none. Common practice, no
    // source.
    private const double Apart = 2;

    /// <summary>The finding with its cause.</summary>
    /// <param name="series">A figure over the history.</param>
    /// <param name="all">All figures of the check.</param>
    /// <param name="wired">Name of the wired reference; null where there is none.</param>
    public static DriftFinding Of(DriftSeries series, IReadOnlyList<DriftSeries> all, string? wired)
    {
        var finding = series.Finding;
        if (!finding.Alarm)
        {
            return finding;
        }

        if (finding.Figure == CheckedFigure.OverheadRatio)
        {
            return finding with
            {
                Cause = DriftCause.Design,
                CauseReason = "The meter cancels in this ratio, so the design or its reference has changed.",
            };
        }

        // The reference's own drift is held against whatever else the same meter measured.
        var partner = wired is null
            ? null
            : all.FirstOrDefault(s => s.Point == series.Point && s.Figure == series.Figure && s.Method != series.Method
            && (s.Method == wired || series.Method == wired) && s.Meters.SequenceEqual(series.Meters));
        if (partner is null || Shift(partner, ChangeTime(series)) is not { } other)
        {
            return finding with
            {
                Cause = DriftCause.NotKnown,
                CauseReason =
                    "No reference by cable was measured on the same days with the same meter, so it cannot be told whether the design "
                        + "or the "
                    + "meter has changed.",
            };
        }

        var own = Shift(series, ChangeTime(series))!.Value;
        string who = partner.Method == wired
            ? $"The reference by cable ({partner.Method}) on the same meter"
            : $"{partner.Method}, on the same meter,";
        string moved = CheckReasons.Change(Math.Exp(other.Shift));
        double apart = Math.Sqrt((own.U * own.U) + (other.U * other.U));
        bool alongside = other.Shift > Apart * other.U, alike = own.Shift - other.Shift <= Apart * apart;
        return (alongside, alike) switch
        {
            (true, true) => finding with
            {
                Cause = DriftCause.Meter,
                CauseReason =
                    $"{who} moved with it ({moved}): the meter, or something else that both share, has changed and not the design, so "
                        + $"nothing fails for it.",
            },
            (true, false) => finding with
            {
                Cause = DriftCause.Design,
                CauseReason = $"{who} moved too ({moved}), but by less: the rest is the design.",
            },
            (false, false) => finding with
            {
                Cause = DriftCause.Design,
                CauseReason = $"{who} did not move with it ({moved}): the meter is not the cause.",
            },
            _ => finding with
            {
                Cause = DriftCause.NotKnown,
                CauseReason =
                    $"{who} moved by {moved}, too uncertain to tell whether it moved with it: it cannot be told yet whether the design or "
                    + "the meter has changed.",
            },
        };
    }

    // The last measurement before the likeliest change; null: the first baseline.
    private static DateTimeOffset? ChangeTime(DriftSeries series) =>
        series.Steps.Where(s => s.Counted).ElementAt(series.Finding.ChangedAfter - 1).Time;

    private static (double Shift, double U)? Shift(DriftSeries series, DateTimeOffset? last)
    {
        var counted = series.Steps.Where(s => s.Counted).ToLookup(s => s.Time is null || s.Time <= last);
        double before = counted[true].Sum(s => s.Runs), after = counted[false].Sum(s => s.Runs);
        return before == 0 || after == 0 ? null : (
            (counted[false].Sum(s => s.Runs * Math.Log(s.Value)) / after) - (counted[true].Sum(s => s.Runs * Math.Log(s.Value)) / before),
            series.Scatter * Math.Sqrt((1 / before) + (1 / after)));
    }
}
