using ChargeAudit.Metrology;
using ChargeAudit.Pooling.Results;
using ChargeAudit.Reports.Text;

namespace ChargeAudit.Cli.Output;

/// <summary>What <c>pool</c> prints for people.</summary>
internal static class PooledText
{
    public static void Write(TerminalText text, PoolResult pool, IReadOnlyList<string> files)
    {
        text.Title(pool.Title);
        text.Line(PoolAnswer.Of(pool));
        text.Line($"All figures {Words.At(pool.Point)}. Years: {pool.Year}.");
        if (pool.Main is { } main)
        {
            text.Heading($"{PoolText.Name(main)}: each device");
            text.Table(["device", "own audits", "weight", "mean without it"], main.Devices.Select(d => (IReadOnlyList<string>)
                [d.Name, PoolText.Of(d.Own), d.Weight is { } w ? Prose.Of($"{100 * w:0.0} %") : "–", d.MeanWithout is { } m
                    ? PoolText.Of(m)
                    : "–"]));
            if (main.Answer is { } answer)
            {
                text.Line($"Spread between devices: {PoolText.Of(answer.Spread, main)}.");
                text.Line("Variance of the mean: "
                    + string.Join(", ",
                    answer.Shares.Select(s => Prose.Of($"{s.What}{(s.SharedByAll ? ", shared by all" : "")} {100 * s.Share:0} %")))
                    + ".");
            }
        }

        Figures(text, "All figures", pool.Figures);
        Figures(text, "If meters of one name are one instrument", pool.AsOneInstrument);
        if (pool.Ranking is { } ranking)
        {
            text.Heading("Chargers, the one that uses least energy first");
            text.Table(["charger", "overhead ratio", "uses least", "among the first three"],
                ranking.Chargers.Select(c => (IReadOnlyList<string>)
                [c.Name, PoolText.Of(c.Ratio), Prose.Of($"{100 * c.Best:0} %"), Prose.Of($"{100 * c.FirstThree:0} %")]));
            text.Bullets(ranking.Pairs.Select(p => p.ToldApart
                ? $"{p.Second} uses {PoolText.Of(p.Ratio)} times as much as {p.First}."
                : $"{p.First} and {p.Second} cannot be told apart: {PoolText.Of(p.Ratio)}."));
        }
        else
        {
            text.Heading("Chargers");
            text.Line($"There is no ranking: {pool.NoRanking}.");
        }

        foreach (var (heading, lines) in new[] { ("Factors", PoolAnswer.Factors(pool)), ("Left out", pool.Apart), ("Doubts", pool.Doubts) })
        {
            if (lines.Count > 0)
            {
                text.Heading(heading);
                text.Bullets(lines);
            }
        }

        if (files.Count > 0)
        {
            text.Line("");
            text.Line($"Written: {string.Join(", ", files.Take(5))}, and the charts.");
        }
    }

    private static void Figures(TerminalText text, string heading, IReadOnlyList<PooledFigure> figures)
    {
        if (figures.Count > 0)
        {
            text.Heading(heading);
            text.Table(["figure", "devices", "mean", "another device", "next audit of one"],
                figures.Select(f => (IReadOnlyList<string>)(f.Answer is { } a
                ? [PoolText.Name(f), InvariantText.Of($"{f.Devices.Count}"), PoolText.Of(a.Mean, f.Unit),
                    PoolText.Range(a.AnotherDevice, f.Unit), PoolText.Range(a.NextMeasurement, f.Unit)]
                : [PoolText.Name(f), InvariantText.Of($"{f.Devices.Count}"), f.WhyNot!, "", ""])));
        }
    }
}
