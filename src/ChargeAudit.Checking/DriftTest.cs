using ChargeAudit.Logs;
using ChargeAudit.Metrology.Statistics;
using ChargeAudit.Studies;

namespace ChargeAudit.Checking;

/// <summary>
/// A slow upward drift over many checks, each of which may pass: a one-sided cumulative sum that starts itself. Each measurement is compared
/// with the mean of all before it, the first baseline included, so no true level need be known and changes of the baseline do not hide a drift;
/// the scatter is pooled over all of them. With a constant true value the terms are independent and standard normal.
/// <i>Source:</i> E. S. Page, Biometrika 41 (1954) 100–115 (cumulative sum); D. M. Hawkins, The Statistician 36 (1987) 299–316 (self-starting).
/// </summary>
public static class DriftTest
{
    /// <summary>What each term is reduced by: half of one standard deviation, so that steps of one are found soonest. [1]</summary>
    public const double Allowance = 0.5;

    /// <summary>The sum that raises an alarm. [1]</summary>
    public const double Limit = 4;

    /// <summary>How far the control limits of a single measurement lie from the level, in standard deviations. [1]</summary>
    public const double ControlDeviations = 3;

    private static readonly double FalseAlarmLength = CusumRunLength.Of(Allowance, Limit);
    private static readonly double OneSigmaLength = CusumRunLength.Of(Allowance, Limit, 1);

    /// <summary>
    /// Tests every figure of the last check over the whole history. Earlier candidates that failed were not accepted and are left out, as are
    /// measurements of another device or with other meters. A figure whose scatter is not known has no series.
    /// </summary>
    /// <param name="history">Checks in order of time, the last one the check just made.</param>
    /// <param name="marginOf">Margin of a figure at a point. [1]</param>
    /// <returns>The findings, each with every measurement behind it, for a chart.</returns>
    public static IReadOnlyList<DriftSeries> Series(IReadOnlyList<HistoryEntry> history, Func<CheckedFigure, MeasuringPoint, double> marginOf)
    {
        ArgumentNullException.ThrowIfNull(history);
        ArgumentNullException.ThrowIfNull(marginOf);
        if (history.Count == 0)
        {
            return [];
        }

        // The same logs checked again are no new measurement.
        var checks = history.GroupBy(e => e.CandidateSha256, StringComparer.Ordinal).Select(g => g.First())
            .Where(e => e.Device == history[^1].Device).ToList();
        return [.. history[^1].Figures.Select(f => Of(checks, f, marginOf(f.Figure, f.Point))).OfType<DriftSeries>()];
    }

    /// <summary>A finding as a sentence.</summary>
    /// <param name="finding">The finding.</param>
    public static string Sentence(DriftFinding finding)
    {
        ArgumentNullException.ThrowIfNull(finding);
        string name = CheckReasons.Name(finding.Method, finding.Point, finding.Figure);
        string found = finding.Alarm
            ? FormattableString.Invariant($"drifts upwards, {CheckReasons.Change(finding.SinceFirst)} over {finding.Checks} measurements, {(finding.BeyondMargin ? "beyond" : "still within")} the margin of {CheckReasons.Percent(finding.Margin)}")
            : FormattableString.Invariant($"no drift seen over {finding.Checks} measurements ({CheckReasons.Change(finding.SinceFirst)} since the first)");
        return FormattableString.Invariant(
            $"{name}: {found}; cumulative sum {finding.Sum:0.00}, alarm above {finding.Limit:0.0}, one false alarm in {finding.ChecksBetweenFalseAlarms:0} checks on average.");
    }

    private static DriftSeries? Of(List<HistoryEntry> checks, HistoryFigure last, double margin)
    {
        var all = checks.SelectMany(c => c.Figures.Where(f => f.Method == last.Method && f.Point == last.Point && f.Figure == last.Figure
            && f.Unit == last.Unit && f.Meters.SequenceEqual(last.Meters)), (c, f) => (Check: c, Figure: f)).ToList();
        var terms = all.Select((f, i) => new Term(
            f.Figure.Candidate, f.Figure.CandidateRuns, f.Figure.CandidateScatter, f.Check.Candidate, f.Check.Time, f.Figure.Verdict,
            i == all.Count - 1 || f.Figure.Verdict != CheckVerdict.Fail)).ToList();
        if (terms.Find(t => t.Counted) is not { } earliest)
        {
            return null;
        }

        // The level starts from the baseline of the first check that counts.
        var start = all[terms.IndexOf(earliest)].Figure;
        var series = terms.Prepend(new Term(start.Baseline, start.BaselineRuns, start.BaselineScatter, "first baseline", null, null, true))
            .Where(t => t.Value > 0 && t.Runs > 1 && t.Scatter is > 0).ToList();
        var counted = series.Where(t => t.Counted).ToList();
        double dof = counted.Sum(t => t.Runs - 1);
        if (counted.Count < 2)
        {
            return null;
        }

        double scatter = Math.Sqrt(counted.Sum(t => (t.Runs - 1) * t.Scatter!.Value * t.Scatter.Value) / dof);
        double first = counted[0].Value, factor = StudentDistribution.TwoSidedFactor(0.95, dof);
        double sum = 0, weights = 0, mean = Math.Log(first);
        var steps = new List<DriftStep>();
        foreach (var term in series)
        {
            double ratio = term.Value / first, reach = Math.Exp(factor * scatter / Math.Sqrt(term.Runs));
            var step = new DriftStep(term.Time, term.Name, term.Value, ratio, ratio / reach, ratio * reach, term.Verdict, term.Counted, null, null, null);
            if (term.Counted && weights > 0)
            {
                double difference = Math.Log(term.Value) - mean, deviation = scatter * Math.Sqrt((1.0 / term.Runs) + (1 / weights));
                sum = Math.Max(0, sum + NormalScore(difference / deviation, dof) - Allowance);
                double level = Math.Exp(mean) / first, limit = Math.Exp(ControlDeviations * deviation);
                step = step with { LowLimit = level / limit, HighLimit = level * limit, Sum = sum };
                weights += term.Runs;
                mean += difference * term.Runs / weights;
            }
            else if (term.Counted)
            {
                weights = term.Runs;
                step = step with { Sum = 0 };
            }

            steps.Add(step);
        }

        var finding = new DriftFinding(
            last.Method, last.Point, last.Figure, counted.Count, sum, Limit, FalseAlarmLength, OneSigmaLength, counted[^1].Value / first, margin);
        return new DriftSeries(last.Method, last.Point, last.Figure, last.Unit, scatter, steps, finding);
    }

    // The scatter is itself estimated, so a term is Student's; its normal score has the same probability.
    private static double NormalScore(double t, double dof)
    {
        double tail = StudentDistribution.UpperTail(Math.Abs(t), dof);
        return Math.Sign(t) * StudentDistribution.Quantile(1 - Math.Clamp(tail, 1e-15, 0.5), double.PositiveInfinity);
    }

    private sealed record Term(double Value, int Runs, double? Scatter, string Name, DateTimeOffset? Time, CheckVerdict? Verdict, bool Counted);
}
