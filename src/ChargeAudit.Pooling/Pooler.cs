using ChargeAudit.Comparing.Yearly;
using ChargeAudit.Logs;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Metrology.Uncertainty;
using ChargeAudit.Pooling.Audits;
using ChargeAudit.Pooling.Results;
using ChargeAudit.Studies;

namespace ChargeAudit.Pooling;

/// <summary>Makes one answer of many audits.</summary>
public static class Pooler
{
    /// <summary>Pools.</summary>
    /// <param name="audits">The audits.</param>
    /// <param name="lists">The lists that named them; use, tariff, title and point come from the first one that gives them.</param>
    /// <param name="point">The measuring point; null: a list's, else the first of wall, usb, device and battery that most audits
    /// have.</param>
    /// <exception cref="InputException">Nothing can be pooled, or the tariff cannot be used.</exception>
    public static PoolResult Run(IReadOnlyList<PooledAudit> audits, IReadOnlyList<PoolList> lists, MeasuringPoint? point = null)
    {
        ArgumentNullException.ThrowIfNull(audits);
        ArgumentNullException.ThrowIfNull(lists);
        var at = point ?? lists.Select(l => l.Point).OfType<string>().Select(StudyWords.Point).FirstOrDefault() ?? Usual(audits);
        var (together, apart) = Belonging.Of(audits, at);
        if (together.Count == 0)
        {
            throw new InputException(InputProblem.Unusable,
                $"none of the {audits.Count} audits has a method beside its reference {PlainWords.At(at)}: {string.Join("; ", apart)}");
        }

        var use = lists.Select(l => l.Use).FirstOrDefault(u => u is not null) ?? new Use();
        var tariff = lists.Select(l => l.Tariff).FirstOrDefault(t => t is not null);
        var prepared = tariff is null ? null : PreparedTariff.Of(tariff);
        List<PoolRow> Rows(bool namesAreInstruments) => [.. together.SelectMany(new RowMaker(at, use, prepared, namesAreInstruments).Of)];
        var rows = Rows(false);
        string[] namesakes = Namesakes(rows);
        var (ranking, noRanking) = ChargerRanker.Of(rows);
        var (effects, noRegression) = FactorRegression.Of(rows);
        return new PoolResult
        {
            Title = lists.Count > 0 ? lists[0].Title : InvariantText.Of($"{together.Count} audits as one answer"),
            Point = at,
            Year = Prose.Of(
                $"{use.ChargesPerWeek} charges a week, {use.ChargeSharePercent} % of a full charge "
                + $"each{(tariff is null ? "; no price" : $"; {TariffText.Of(tariff).TrimEnd('.')}")}"),
            Rows = rows,
            Figures = Figures(rows, Enum.GetValues<PoolFigure>()),
            AsOneInstrument = namesakes.Length == 0 ? [] : Figures(Rows(true), [PoolFigure.OverheadRatio, PoolFigure.EnergyPerCharge]),
            Ranking = ranking,
            NoRanking = noRanking,
            Factors = effects,
            NoRegression = noRegression,
            Apart = apart,
            Doubts = [.. Doubts(rows, namesakes)],
            Audits = audits,
        };
    }

    private static MeasuringPoint Usual(IReadOnlyList<PooledAudit> audits) => Enum.GetValues<MeasuringPoint>()
        .MaxBy(p => audits.Count(a => a.Design.Methods.Any(m => m.Name != a.Reference && m.Points.ContainsKey(p))));

    private static List<PooledFigure> Figures(List<PoolRow> rows, IEnumerable<PoolFigure> figures)
    {
        string[] chargers = [.. rows.Select(r => r.Charger).Distinct()];
        string?[] groups = chargers.Length == 1 ? [chargers[0]] : [null, .. chargers];
        return [.. figures.SelectMany(f =>
            groups.Select(c => FigurePooler.Of(f, c, [.. rows.Where(r => c is null || r.Charger == c)]))).OfType<PooledFigure>()];
    }

    // Meters without a key whose name occurs in two audits or more.
    private static string[] Namesakes(List<PoolRow> rows) =>
    [
        .. rows.SelectMany(r => r.Figures.Values.Where(f => f.Value is not null).SelectMany(f => f.Value!.Components)
                .Where(c => c.Source is { Owner: SourceOwner.Meter, Shared: true } && c.Source.Design == r.Audit.Mark)
                    .Select(c => (Meter: c.Source.OwnerName!, r.Audit.Mark)))
            .Distinct().GroupBy(m => m.Meter).Where(g => g.Count() > 1).Select(g => g.Key).Order(StringComparer.Ordinal),
    ];

    private static IEnumerable<string> Doubts(List<PoolRow> rows, string[] namesakes)
    {
        foreach (string name in namesakes)
        {
            yield return $"Several audits name a meter {name}, and nothing says whether it is one instrument: both answers are given. Add "
                + "instrument = \"…\" to the meter in each study, or [audits.instruments] to the list.";
        }

        var sets = rows.GroupBy(r => r.Device)
            .Select(d => string.Join(", ", d.Select(r => r.Charger).Distinct().Order(StringComparer.Ordinal))).Distinct().Count();
        if (sets > 1)
        {
            yield return "Not every device was tried on every charger: the mean over all chargers mixes what differs between devices with "
                + "what differs between chargers. The ranking does not.";
        }

        int devices = rows.Select(r => r.Device).Distinct().Count();
        if (devices is >= FigurePooler.LeastDevices and < 5)
        {
            yield return InvariantText.Of(
                $"{devices} devices show little of how much devices differ: the intervals for another device are wide for that reason.");
        }

        if (rows.Any(r => r.Figures[PoolFigure.OverheadRatio].Value is { } f
            && !f.Components.Any(c => c.Source.Kind == SourceKind.Repeatability)))
        {
            yield return "Some audits rest on single runs, so how far further runs would differ is not in their uncertainty.";
        }
    }
}
