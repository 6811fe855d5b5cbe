using System.Runtime.InteropServices;
using ChargeAudit.Checking.Drift;
using ChargeAudit.Logs;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Statistics;
using ChargeAudit.Studies;

namespace ChargeAudit.Checking;

/// <summary>
/// A slow upward drift over many checks, each of which may pass: a change-point chart of each figure over all checks, the first baseline
/// included, so that no true level need be known and changes of the baseline do not hide a drift. The limits keep the false alarms of the
/// whole check, all its figures together, to one in <see cref="DriftPower.ChecksBetweenFalseAlarms"/> checks from the first check on.
/// </summary>
public static class DriftTest
{
    /// <summary>How far the control limits of a single measurement lie from the level, in standard deviations. [1]</summary>
    public const double ControlDeviations = 3;

    /// <summary>Measurements that a chart's level should rest on before it is relied on. [1]</summary>
    public const int EnoughMeasurements = 5;

    /// <summary>
    /// Tests every figure of the last check over the whole history. Earlier candidates that failed were not accepted and are left out, as
    /// are measurements of another device or with other meters. A figure whose scatter is not known has no series.
    /// </summary>
    /// <param name="history">Checks in order of time, the last one the check just made.</param>
    /// <param name="marginOf">Margin of a figure at a point. [1]</param>
    /// <returns>The findings, each with every measurement behind it, for a chart.</returns>
    public static IReadOnlyList<DriftSeries> Series(IReadOnlyList<HistoryEntry> history,
        Func<CheckedFigure, MeasuringPoint, double> marginOf)
    {
        ArgumentNullException.ThrowIfNull(history);
        ArgumentNullException.ThrowIfNull(marginOf);
        if (history.Count == 0)
        {
            return [];
        }

        // The same logs checked again are not a new measurement, and neither is a candidate at an earlier look.
        var same = history.GroupBy(e => e.CandidateSha256, StringComparer.Ordinal).Select(g => g.First())
            .Where(e => e.Device == history[^1].Device).ToList();
        var checks = same.Except(EarlierLooks.Superseded(same)).ToList();
        var charts = history[^1].Figures.Select(f => (Figure: f, Terms: TermsOf(checks, f)))
            .Where(c => c.Terms.Count(t => t.Counted) > 1).ToList();
        double hazard = charts.Count == 0 ? 0 : DriftPower.HazardOf(charts.Count);
        var limits = new Dictionary<string, IReadOnlyList<double>>(StringComparer.Ordinal);
        var series = charts.Select(c => Of(c.Figure, c.Terms, marginOf(c.Figure.Figure, c.Figure.Point), runs =>
        {
            string key = string.Join(' ', runs);
            return limits.TryGetValue(key, out var known)
                ? known
                : limits[key] = ChangePointLimits.Of([.. runs.Select(n => ((double)n, n - 1.0))], hazard);
        })).ToList();
        return [.. series.Select(s => s with { Finding = DriftCauses.Of(s, series, history[^1].WiredReference) })];
    }

    /// <summary>A finding as a sentence.</summary>
    /// <param name="finding">The finding.</param>
    public static string Sentence(DriftFinding finding)
    {
        ArgumentNullException.ThrowIfNull(finding);
        string name = CheckReasons.Name(finding.Method, finding.Point, finding.Figure);
        string found = finding.Alarm
            ? InvariantText.Of(
                $"drifts upwards, {CheckReasons.Change(finding.Change)} since measurement {finding.ChangedAfter} of {finding.Checks} and "
                + $"{CheckReasons.Change(finding.SinceFirst)} since the first, "
                + $"{(finding.SinceFirst > 1 + finding.Margin ? "beyond" : "still within")} the margin of "
                + $"{CheckReasons.Percent(finding.Margin)}")
            : InvariantText.Of(
                $"no drift seen over {finding.Checks} measurements ({CheckReasons.Change(finding.SinceFirst)} since the first)");
        return Prose.Of($"{name}: {found}; change-point score {finding.Score:0.00}, alarm above {finding.Limit:0.00}.")
            + (finding.CauseReason is { } cause ? " " + cause : "");
    }

    /// <summary>How often a false alarm comes, how soon a step is found by now, and what would help, as sentences.</summary>
    /// <param name="drifts">What was found; at least one.</param>
    public static IReadOnlyList<string> Promise(IReadOnlyList<DriftFinding> drifts)
    {
        ArgumentNullException.ThrowIfNull(drifts);
        var power = DriftPower.For(drifts.Count);
        int measurements = drifts.Min(d => d.Checks), quiet = measurements - 1;
        string Found(double sigma)
        {
            var row = power.Rows.Where(r => !r.AllMove && r.StepSigma == sigma && r.QuietChecks <= quiet).MaxBy(r => r.QuietChecks)!;
            return Prose.Of(
                $"{sigma:0} standard {(sigma == 1 ? "uncertainty" : "uncertainties")} of a check within 20 checks in "
                + $"{100 * row.Within20:0} % of the cases (no test could do better than "
                + $"{100 * DriftPower.Possible(row.QuietChecks, sigma, 20):0} %)");
        }

        List<string> told =
        [
            Prose.Of(
                $"With no change the check raises one false alarm in {DriftPower.ChecksBetweenFalseAlarms:0} checks on average, all its "
                + $"figures together."),
            InvariantText.Of(
                $"After {quiet} quiet {(quiet == 1 ? "check" : "checks")} a step of one figure is found as follows: {Found(1)}; "
                + $"{Found(2)}."),
        ];
        if (measurements < EnoughMeasurements)
        {
            told.Add(
                InvariantText.Of(
                    $"The level rests on {measurements} measurements: measure the baseline five times, on different days, before you rely "
                + $"on a quiet chart."));
        }

        return told;
    }

    // The measurements of one figure in order of time, the first baseline first; those of unknown scatter are left out.
    private static List<Term> TermsOf(List<HistoryEntry> checks, HistoryFigure last)
    {
        var all = checks.SelectMany(c => c.Figures.Where(f => f.Method == last.Method && f.Point == last.Point && f.Figure == last.Figure
            && f.Unit == last.Unit && f.Meters.SequenceEqual(last.Meters)), (c, f) => (Check: c, Figure: f)).ToList();
        var terms = all.Select((f, i) => new Term(
            f.Figure.Candidate, f.Figure.CandidateRuns, f.Figure.CandidateScatter, f.Check.Candidate, f.Check.Time, f.Figure.Verdict,
            i == all.Count - 1 || f.Figure.Verdict != CheckVerdict.Fail)).ToList();
        if (terms.Find(t => t.Counted) is not { } earliest)
        {
            return [];
        }

        // The level starts from the baseline of the first check that counts.
        var start = all[terms.IndexOf(earliest)].Figure;
        return
        [
            .. terms.Prepend(new Term(start.Baseline, start.BaselineRuns, start.BaselineScatter, "first baseline", null, null, true))
                .Where(t => t.Value > 0 && t.Runs > 1 && t.Scatter is > 0),
        ];
    }

    private static DriftSeries Of(HistoryFigure last, List<Term> series, double margin,
        Func<IReadOnlyList<int>, IReadOnlyList<double>> limitsOf)
    {
        var counted = series.Where(t => t.Counted).ToList();
        var limits = limitsOf([.. counted.Select(t => t.Runs)]);
        double dof = counted.Sum(t => t.Runs - 1);
        double scatter = Math.Sqrt(counted.Sum(t => (t.Runs - 1) * t.Scatter!.Value * t.Scatter.Value) / dof);
        double first = counted[0].Value, factor = StudentDistribution.TwoSidedFactor(0.95, dof);
        double weights = 0, mean = Math.Log(first);
        var chart = new List<ChartMeasurement>();
        var steps = new List<DriftStep>();
        ChartState state = default;
        foreach (var term in series)
        {
            double ratio = term.Value / first, reach = Math.Exp(factor * scatter / Math.Sqrt(term.Runs));
            var step = new DriftStep(term.Time, term.Name, term.Value, term.Runs, ratio, ratio / reach, ratio * reach, term.Verdict,
                term.Counted, null, null, null, null);
            if (term.Counted)
            {
                double value = Math.Log(term.Value), difference = value - mean;
                chart.Add(new ChartMeasurement(value, term.Runs, term.Scatter!.Value));
                if (chart.Count > 1)
                {
                    state = ChangePointChart.After(CollectionsMarshal.AsSpan(chart));
                    double deviation = scatter * Math.Sqrt((1.0 / term.Runs) + (1 / weights));
                    double level = Math.Exp(mean) / first, control = Math.Exp(ControlDeviations * deviation);
                    step = step with
                    {
                        LowLimit = level / control,
                        HighLimit = level * control,
                        Score = state.Score,
                        Limit = limits[chart.Count - 1],
                    };
                }
                else
                {
                    step = step with { Score = 0 };
                }

                weights += term.Runs;
                mean += difference * term.Runs / weights;
            }

            steps.Add(step);
        }

        var finding = new DriftFinding(
            last.Method, last.Point, last.Figure, counted.Count, state.Score, limits[^1], DriftPower.ChecksBetweenFalseAlarms,
            Math.Max(1, state.Before), Math.Exp(state.Shift), counted[^1].Value / first, margin);
        return new DriftSeries(last.Method, last.Point, last.Figure, last.Unit, scatter, steps, finding) { Meters = last.Meters };
    }

    private sealed record Term(double Value, int Runs, double? Scatter, string Name, DateTimeOffset? Time, CheckVerdict? Verdict,
        bool Counted);
}
