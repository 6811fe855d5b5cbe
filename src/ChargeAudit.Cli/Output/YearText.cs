using ChargeAudit.Comparing.Methods;
using ChargeAudit.Comparing.Results;
using ChargeAudit.Comparing.Yearly;
using ChargeAudit.Measuring.Segmentation;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Uncertainty;
using ChargeAudit.Reports.Text;

namespace ChargeAudit.Cli.Output;

/// <summary>What <c>audit</c> prints of a year: energy and cost by mode, differences, what stand-by uses, what pays for itself, and what
/// moves the result.</summary>
internal static class YearText
{
    private const int MostMovers = 3;

    public static void Write(TerminalText text, Footnotes notes, AuditResult result, Detail detail)
    {
        text.Heading("A year of use, at the wall");
        text.Table(
            ["method", "energy", "charging", "full", "waiting", "cost"],
            result.Methods.Select(m => (IReadOnlyList<string>)
            [
                m.Name, notes.Of(m.Yearly.Energy), OfMode(m, Mode.Charge), OfMode(m, Mode.Maintenance), OfMode(m, Mode.NoLoad),
                    notes.Of(m.Yearly.Cost),
            ]));
        notes.Print();
        if (detail == Detail.Full)
        {
            Details(text, notes, result);
            text.Bullets([.. Differences(notes, result), .. Paybacks(notes, result)]);
            notes.Print();
            Movers(text, result);
        }
        else
        {
            text.Bullets(Paybacks(notes, result));
            notes.Print();
        }

        Assumptions(text, result);
        string OfMode(MethodResult method, Mode mode) =>
            method.Yearly.ByMode.FirstOrDefault(m => m.Mode == mode) is { } part ? notes.Value(part.Energy) : "not known";
    }

    private static void Details(TerminalText text, Footnotes notes, AuditResult result)
    {
        var methods = result.Methods.Where(m => m.Yearly.Detail is not null).ToList();
        if (methods.Count == 0)
        {
            return;
        }

        IReadOnlyList<string> Row(string what, Func<YearDetail, string> of) => [what, .. methods.Select(m => of(m.Yearly.Detail!))];
        IReadOnlyList<string> Drawn(string what, Func<YearDetail, MonteCarloInterval?> of,
            Func<MethodResult, (string Unit, Figure Figure)> beside) =>
            [what, .. methods.Select(m => of(m.Yearly.Detail!) is { } drawn
                ? FigureText.Draws(drawn, beside(m).Unit) + notes.Mark(beside(m).Figure)
                : $"not known: {m.Yearly.Detail!.NoMonteCarloBecause}")];
        var rows = new List<IReadOnlyList<string>>
        {
            Row("usual charges", d => Prose.Of($"{d.ChargesPerYear:0.#}")),
            Row("share that is stand-by", d => notes.Percent(d.StandbyShare)),
            Row("cost of a charge", d => notes.Of(d.CostPerCharge)),
            Row("unplugging between charges saves", d => Saved(d.Unplugging)),
            Drawn("energy by random draws", d => d.EnergyMonteCarlo, m => ("kWh", m.Yearly.Energy)),
        };
        if (result.Study.Tariff is not null)
        {
            rows.Add(Drawn("cost by random draws", d => d.CostMonteCarlo, m => (m.Yearly.Detail!.Currency?.Code ?? "", m.Yearly.Cost)));
        }

        if (methods.Any(m => m.Yearly.Detail!.FixedCharges.Value is not null))
        {
            rows.Add(Row("fixed charges, paid in any case", d => notes.Of(d.FixedCharges)));
        }

        if (result.Study.Carbon is not null)
        {
            rows.Add(Row("emissions (CO\u2082)", d => notes.Of(d.Co2)));
        }

        text.Table(["in the year", .. methods.Select(m => m.Name)], rows);
        string Saved(Saving saving) => saving.Cost.Value is null
            ? notes.Of(saving.Energy)
            : $"{notes.Value(saving.Energy)}, {notes.Value(saving.Cost)}";
    }

    private static IEnumerable<string> Differences(Footnotes notes, AuditResult result)
    {
        foreach (var year in result.Years.Where(y => y.Difference.Energy.Value is not null))
        {
            string cost = year.Difference.Cost.Value is null ? "" : $", {notes.Of(year.Difference.Cost)}";
            string co2 = year.Difference.Co2.Value is null ? "" : $", {notes.Of(year.Difference.Co2)} of CO\u2082";
            yield return $"{year.Method} minus {year.Reference}: {notes.Of(year.Difference.Energy)}{cost}{co2} a year.";
        }
    }

    private static IEnumerable<string> Paybacks(Footnotes notes, AuditResult result) => result.Paybacks.Select(p => p.Years.Value is null
        ? $"Buying {p.Bought} to replace {p.Now}: {p.Years.WhyNot}."
        : Prose.Of(
            $"Buying {p.Bought} for {p.Price:0.00} {result.Study.Tariff?.Currency} to replace {p.Now} pays for itself after "
                + $"{notes.Of(p.Years)}."));

    private static void Movers(TerminalText text, AuditResult result)
    {
        var rows = result.Methods
            .SelectMany(m => (m.Yearly.Detail?.Tornado ?? []).Where(b => b.Swing > 0).Take(MostMovers), (m, b) => (IReadOnlyList<string>)
            [
                m.Name,
                b.What,
                $"{FigureText.Plain(b.Low, "", 3)} to {FigureText.Plain(b.High, b.Unit, 3)}",
                $"{FigureText.Plain(b.ResultLow, "", 3)} to {FigureText.Plain(b.ResultHigh, b.ResultUnit, 3)}",
                b.Basis,
            ])
            .ToList();
        if (rows.Count > 0)
        {
            text.Heading("What changes a year most, one input at a time");
            text.Table(["method", "input", "between", "the year then", "where the two values come from"], rows);
        }
    }

    private static void Assumptions(TerminalText text, AuditResult result)
    {
        var said = YearAssumptions.Of(result);
        if (said.Count > 0)
        {
            text.Heading("The use that a year is based on");
            text.Bullets(said);
        }
    }
}
