using ChargeAudit.Metrology;
using ChargeAudit.Pooling.Results;
using ChargeAudit.Reports.Charts;
using ChargeAudit.Reports.Text;

namespace ChargeAudit.Reports.Model.Sections;

/// <summary>A pool as a report.</summary>
internal static class PoolSections
{
    public static ReportDocument Of(PoolResult pool, IReadOnlyList<Chart> charts)
    {
        var sections = new List<Section>
        {
            new("devices", "Devices",
                [.. Picture(charts, PoolCharts.Forest), .. pool.Figures.Where(f => f.Figure == PoolFigure.OverheadRatio)
                .SelectMany(Devices)]),
            new("chargers", "Chargers", [.. Chargers(pool, charts)]),
            new("figures", "All figures", [Answers("Figures over devices", pool.Figures), .. Missing(pool)]),
            new("uncertainty", "Where the uncertainty comes from", [.. Shares(pool.Main)]),
        };
        if (pool.AsOneInstrument.Count > 0)
        {
            sections.Insert(3,
                new Section("instruments", "If meters of one name are one instrument",
                [Answers("The same figures with namesakes as one instrument", pool.AsOneInstrument)]));
        }

        if (pool.Factors.Count > 0 || pool.NoRegression.Count > 0)
        {
            sections.Add(new Section("factors", "Factors", [.. Factors(pool)]));
        }

        if (pool.Apart.Count > 0)
        {
            sections.Add(new Section("apart", "Left out", [new Bullets(pool.Apart)]));
        }

        if (pool.Doubts.Count > 0)
        {
            sections.Add(new Section("doubts", "Doubts", [new Bullets(pool.Doubts)]));
        }

        sections.Add(
            new Section("audits", "Audits",
            [new DataTable("What was pooled", [new("file"), new("device"), new("SHA-256")],
            [.. pool.Audits.Select(a => (IReadOnlyList<string>)[a.File, a.Device, a.Design.Sha256])])]));
        return new ReportDocument(pool.Title, PoolAnswer.Of(pool), [$"All figures {Words.At(pool.Point)}. Years: {pool.Year}."],
            KeyFigures(pool), sections);
    }

    private static List<KeyFigure> KeyFigures(PoolResult pool) => pool.Main?.Answer is not { } a ? [] :
    [
        new("mean overhead ratio", FigureText.Plain(a.Mean.Value, ""), $"95 % interval {PoolText.Range(a.Mean)}"),
        new("another device", PoolText.Range(a.AnotherDevice), "holds its true ratio in 95 of 100 cases"),
        new("spread between devices", FigureText.Plain(100 * a.Spread.Reml, "%", 2),
            $"95 % interval {FigureText.Plain(100 * a.Spread.Low, "", 2)} to {FigureText.Plain(100 * a.Spread.High, "%", 2)}"),
    ];

    private static IEnumerable<Block> Picture(IReadOnlyList<Chart> charts, string key) => charts.Any(c => c.Key == key)
        ? [new Picture(key)]
        : [];

    private static IEnumerable<Block> Devices(PooledFigure figure)
    {
        yield return new DataTable(
            $"{PoolText.Name(figure)}: each device",
            [new("device"), new("audits", ColumnKind.Number), new("own audits", ColumnKind.Number), new("weight", ColumnKind.Number),
                new("mean without it", ColumnKind.Number), new("influence", ColumnKind.Number)],
            [.. figure.Devices.Select(d => (IReadOnlyList<string>)
            [
                d.Name, InvariantText.Of($"{d.Audits.Count}"), PoolText.Of(d.Own, figure.Unit), d.Weight is { } w
                    ? Prose.Of($"{100 * w:0.0} %")
                    : "–",
                d.MeanWithout is { } m ? PoolText.Of(m, figure.Unit) : "–", d.Influence is { } i ? Prose.Of($"{i:0.00}") : "–",
            ])]);
        yield return new Paragraph(figure.Answer is { } a
            ? Prose.Of(
                $"Spread between devices: {PoolText.Of(a.Spread, figure)}; Q is {a.Spread.Q:0.0} with {a.Spread.DegreesOfFreedom:0} "
                + $"degrees of freedom. Influence: how far the mean moves without the device, in standard uncertainties of the rest.")
            : $"No common answer: {figure.WhyNot}.");
    }

    private static DataTable Answers(string caption, IReadOnlyList<PooledFigure> figures) => new(
        caption,
        [new("figure"), new("devices", ColumnKind.Number), new("mean", ColumnKind.Number), new("another device", ColumnKind.Number),
            new("next audit of one", ColumnKind.Number), new("degrees of freedom", ColumnKind.Number)],
        [.. figures.Select(f => (IReadOnlyList<string>)(f.Answer is { } a
            ? [PoolText.Name(f), InvariantText.Of($"{f.Devices.Count}"), PoolText.Of(a.Mean, f.Unit),
                PoolText.Range(a.AnotherDevice, f.Unit), PoolText.Range(a.NextMeasurement, f.Unit),
                Prose.Of($"{a.MeanDegreesOfFreedom:0}")]
            : [PoolText.Name(f), InvariantText.Of($"{f.Devices.Count}"), f.WhyNot!, "–", "–", "–"]))]);

    private static IEnumerable<Block> Missing(PoolResult pool)
    {
        string[] missing = [.. pool.Figures.SelectMany(f => f.Missing.Select(m => $"{PoolText.Name(f.Figure)}: {m}")).Distinct()];
        return missing.Length == 0 ? [] : [new Subheading("Figures that audits do not have"), new Bullets(missing)];
    }

    private static IEnumerable<Block> Chargers(PoolResult pool, IReadOnlyList<Chart> charts)
    {
        if (pool.Ranking is not { } ranking)
        {
            yield return new Paragraph($"There is no ranking of chargers: {pool.NoRanking}.");
            yield break;
        }

        yield return new Picture(PoolCharts.Ranking);
        yield return new DataTable(
            "Chargers, the one that uses least energy first",
            [new("charger"), new("overhead ratio", ColumnKind.Number), new("uses least", ColumnKind.Number),
                new("among the first three", ColumnKind.Number)],
            [.. ranking.Chargers.Select(c =>
                (IReadOnlyList<string>)[c.Name, PoolText.Of(c.Ratio), Prose.Of($"{100 * c.Best:0.0} %"),
                Prose.Of($"{100 * c.FirstThree:0.0} %")])]);
        yield return new DataTable(
            "Pairs of chargers",
            [new("uses less"), new("uses more"), new("second by first", ColumnKind.Number), new("p, adjusted", ColumnKind.Number),
                new("verdict")],
            [.. ranking.Pairs.Select(p =>
                (IReadOnlyList<string>)[p.First, p.Second, PoolText.Of(p.Ratio), Probability(p.P),
                    p.ToldApart ? "told apart" : "cannot be told apart"])]);
        yield return new Picture(PoolCharts.Table);
        string audits = ranking.AuditSpread is { } s ? Prose.Of($", {100 * s:0.00} % between audits of one device on one charger")
            : "; no device was audited twice on one charger, so that includes what differs from audit to audit";
        yield return new Paragraph(Prose.Of(
            $"Standard deviations of the overhead ratio: {100 * ranking.DeviceSpread:0.00} % between devices, "
                + $"{100 * ranking.InteractionSpread:0.00} % for the particular pair of device and charger{audits}. Differences have "
                + $"{ranking.DegreesOfFreedom:0} degrees of freedom."));
    }

    // No probability is zero.
    private static string Probability(double p) => p < 0.001 ? Prose.Of($"< {0.001:0.000}") : Prose.Of($"{p:0.000}");

    private static IEnumerable<Block> Shares(PooledFigure? figure)
    {
        if (figure?.Answer is not { } answer)
        {
            yield return new Paragraph("There is no mean whose uncertainty could be split.");
            yield break;
        }

        yield return new DataTable(
            $"Variance of the mean of {PoolText.Name(figure)}",
            [new("what"), new("share", ColumnKind.Number), new("more devices make it smaller")],
            [.. answer.Shares.Select(s =>
                (IReadOnlyList<string>)[s.What, Prose.Of($"{100 * s.Share:0.0} %"), s.SharedByAll ? "no: all share it" : "yes"])]);
    }

    private static IEnumerable<Block> Factors(PoolResult pool)
    {
        if (pool.Factors.Count > 0)
        {
            yield return new DataTable(
                "What the overhead ratio is multiplied by",
                [new("factor"), new("from"), new("to"), new("ratio", ColumnKind.Number), new("degrees of freedom", ColumnKind.Number)],
                [.. pool.Factors.Select(f => (IReadOnlyList<string>)[f.Factor, f.Base ?? "any value", f.Level
                    ?? "one more", PoolText.Of(f.Ratio), Prose.Of($"{f.DegreesOfFreedom:0}")])]);
            yield return new Paragraph(
                "Factors are taken one at a time and were not assigned at random: whatever changes with a factor moves the overhead too.");
        }

        if (pool.NoRegression.Count > 0)
        {
            yield return new Bullets(pool.NoRegression);
        }
    }
}
