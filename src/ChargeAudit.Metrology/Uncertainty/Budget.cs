using System.Globalization;

namespace ChargeAudit.Metrology.Uncertainty;

/// <summary>
/// Where a figure's uncertainty comes from: its sources in order of their share, and what would help most. Immutable.
/// <i>Source:</i> JCGM 100:2008, 7.2.7 (components and how they were obtained).
/// </summary>
public sealed record Budget
{
    private const double Noticeable = 1e-9;
    private const int AtLeastWorthwhile = 3;

    /// <summary>The figure.</summary>
    public required Measured Figure { get; init; }

    /// <summary>Sources in order of share, the largest first.</summary>
    public required IReadOnlyList<BudgetRow> Rows { get; init; }

    /// <summary>What would improve the figure most, as one sentence; null where nothing is uncertain.</summary>
    public string? Advice { get; init; }

    /// <summary>What to keep in mind about the degrees of freedom, or why the whole is not known, as a sentence; null where there is
    /// nothing.</summary>
    public string? Warning { get; init; }

    /// <summary>Draws up the budget of a figure. Where the uncertainty is not known as a whole, the parts that are known are still
    /// listed.</summary>
    /// <param name="figure">The figure.</param>
    public static Budget Of(Measured figure)
    {
        double total = figure.Components.Sum(c => c.Variance);
        BudgetRow[] rows = [.. figure.Components
            .Where(c => c.SignedStandardUncertainty != 0)
            .Select(c => new BudgetRow(
                c.Source, Math.Abs(c.SignedStandardUncertainty), 100 * c.SignedStandardUncertainty * c.SignedStandardUncertainty / total))
            .OrderByDescending(r => r.SharePercent).ThenBy(r => r.Source.Id, StringComparer.Ordinal)];
        return new Budget
        {
            Figure = figure,
            Rows = rows,
            Advice = figure.UnknownBecause is not null
                ? "Give what is missing first: without it no interval can be stated."
                : rows.Length == 0 ? null : AdviceOn(rows, figure),
            Warning = figure.UnknownBecause is { } why
                ? $"The uncertainty is not known as a whole: {why}."
                : CoverageFactor.Warning(figure),
        };
    }

    private static string? AdviceOn(BudgetRow[] rows, Measured figure)
    {
        // Each kind of source is weighed as a whole: four offsets of 20 % each matter more than one scatter of 20 %.
        var leading = rows.GroupBy(r => r.Source.Kind).OrderByDescending(g => g.Sum(r => r.SharePercent)).First();
        if (rows[0].StandardUncertainty < Noticeable * Math.Abs(figure.Value))
        {
            return null;
        }

        string[] meters = [.. leading.Select(r => NameOf(SourceOwner.Meter, r.Source)).OfType<string>().Distinct()
            .Order(StringComparer.Ordinal)];
        string named = meters.Length == 0 ? "the meter" : string.Join(" and ", meters.Select(m => $"meter {m}"));
        return leading.Key switch
        {
            SourceKind.MeterGain when meters.Length > 1 =>
                $"Use the same meter for both: the gain errors of {named} would then cancel in a ratio.",
            SourceKind.MeterGain => $"Have {named} calibrated, or use one with a smaller error in per cent of the reading.",
            SourceKind.MeterOffset => $"Use a meter with a smaller fixed error than {named}, or take its zero reading off first.",
            SourceKind.Clock => $"Check the clock of {named} against a good one over some hours.",
            SourceKind.Steps => "Use a meter that shows finer steps, or its energy counter.",
            SourceKind.Noise => "Log at shorter intervals, or use a meter that averages between its readings.",
            SourceKind.Sampling =>
                "Sample faster, or use a meter that averages between its readings: what happens between two rows is not seen.",
            SourceKind.Gap => "Log again without the gaps.",
            SourceKind.Edge => "Sample faster around the start and the end of the charge, or state the time of full indication.",
            SourceKind.CounterReading => "Use a counter with finer steps, or let it run over several charges.",
            SourceKind.Repeatability => FurtherRuns([.. leading], rows),
            SourceKind.MeterPhase =>
                $"Use a meter with a smaller phase error than {named}, or one stated at the low power factor found here.",
            SourceKind.StartingPower => $"Use a meter that starts to register at less power than {named}.",
            SourceKind.Calibration =>
                $"Calibrate {named} again: at more points near these readings, with smaller uncertainties, or more recently.",
            SourceKind.MeterInLine => $"Measure the resistance and the own consumption of {named}, or move the sense leads behind it.",
            _ => $"Look at {leading.First().Source.Id} first: it brings "
                + $"{leading.First().SharePercent.ToString("F0", CultureInfo.InvariantCulture)} % of the variance.",
        };
    }

    // Enough further runs to bring the variance by scatter down to the rest, but no more than were made so far, or three.
    private static string FurtherRuns(BudgetRow[] scatters, BudgetRow[] rows)
    {
        double scatter = scatters.Sum(r => r.SharePercent), rest = rows.Sum(r => r.SharePercent) - scatter;
        double runs = Math.Max(2, scatters.Min(r => r.Source.Observations ?? Math.Round(r.Source.DegreesOfFreedom + 1)));
        double reasonable = Math.Max(AtLeastWorthwhile, runs);
        double further = rest <= 0 ? reasonable : Math.Clamp(Math.Ceiling((runs * ((scatter / rest) - 1)) - 1e-6), 1, reasonable);
        string what = scatters.Length > 1 ? "each method" : NameOf(SourceOwner.Method, scatters[0].Source) is { } method
            ? $"method {method}"
            : "the same kind";
        string count = further switch
        {
            1 => "One more",
            2 => "Two more",
            3 => "Three more",
            _ => WrittenMarks.Number(further.ToString("F0", CultureInfo.InvariantCulture)) + " more",
        };
        return scatters[0].Source.InBlocks
            ? $"{count} {(further > 1 ? "blocks (days, set-ups)" : "block (a day, a set-up)")} with runs of {what} would help most: the "
                + "scatter between blocks is the largest part."
            : $"{count} {(further > 1 ? "runs" : "run")} of {what} would help most: the scatter between runs is the largest part.";
    }

    private static string? NameOf(SourceOwner owner, InfluenceSource source) => source.Owner == owner ? source.OwnerName : null;
}
