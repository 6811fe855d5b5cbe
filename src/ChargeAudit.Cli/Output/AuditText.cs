using ChargeAudit.Comparing.Results;
using ChargeAudit.Logs;
using ChargeAudit.Reports.Text;

namespace ChargeAudit.Cli.Output;

/// <summary>What <c>audit</c> prints for people: what, how much more, where measured, what a year costs, what to doubt.</summary>
internal static class AuditText
{
    private const int MostBudgetRows = 12;
    private const double LeastSharePercent = 0.01;

    public static void Write(TerminalText text, AuditResult result, string folder, IReadOnlyList<string> written, bool budget,
        Detail detail, IReadOnlyList<string> saidAbove)
    {
        text.Title(result.Study.Title);
        text.Bullets([.. Answer.Sentences(result), .. Answer.YearSentences(result)]);
        var notes = new Footnotes(text);
        Energies(text, notes, result, detail);
        Stages(text, result, detail);
        Placement(text, result);
        Standby(text, notes, result, detail);
        YearText.Write(text, notes, result, detail);
        PublishedText.Write(text, notes, result, detail);
        if (budget)
        {
            Budget(text, result);
        }

        if (detail == Detail.Full)
        {
            text.Heading("What a reviewer would ask");
            text.Table(["question", "answer"], ReviewText.Of(result).Select(q => (IReadOnlyList<string>)[q.Question, q.Answer]));
        }

        Doubts(text, result, saidAbove);
        CautionText.Write(text, result, detail);
        text.Heading("Written");
        var files = written.Select(w => Path.GetRelativePath(folder, w)).ToList();
        text.Line(
            $"{folder}: {string.Join(", ", files.Where(f => !f.Contains(Path.DirectorySeparatorChar)))}, and "
            + $"{FigureText.Count(files.Count(f => f.Contains(Path.DirectorySeparatorChar)))} chart files. Open report.html in a "
            + $"browser{(detail == Detail.Short ? ", or add --details to see more here" : "")}.");
    }

    private static void Energies(TerminalText text, Footnotes notes, AuditResult result, Detail detail)
    {
        text.Heading("Energy per charge");
        var rows = new List<IReadOnlyList<string>>();
        foreach (var point in Enum.GetValues<MeasuringPoint>())
        {
            foreach (var method in result.Methods.Where(m => m.Points.TryGetValue(point, out var p) && p.EnergyPerCharge.Value is not null))
            {
                var comparison = result.Comparisons.FirstOrDefault(c => c.Method == method.Name && c.Point == point);
                rows.Add(
                [
                    Words.Place(point) + DerivedText.Mark(method.Points[point].EnergyPerCharge), method.Name,
                    method.Points[point].RunEnergiesWh.Count.ToString(System.Globalization.CultureInfo.InvariantCulture),
                    notes.Of(method.Points[point].EnergyPerCharge),
                    FigureText.Duration(method.Points[point].ChargeDurationS),
                    comparison is null ? "(reference)" : notes.Overhead(comparison.OverheadRatio),
                ]);
            }
        }

        text.Table(["measured at", "method", "runs", "energy per charge", "time", $"more than {result.Study.Reference}"], rows);
        notes.Print();
        if (result.Corrections.Count > 0)
        {
            text.Bullets(CorrectionText.Of(result));
        }

        Notes(text, detail, ChainText.Energies(result));
    }

    private static void Stages(TerminalText text, AuditResult result, Detail detail)
    {
        if (result.Stages.Count == 0)
        {
            return;
        }

        text.Heading("Where the energy goes");
        text.Table(
            ["method", "stage", "efficiency", "lost per charge"],
            result.Stages.Select(s => (IReadOnlyList<string>)
            [
                s.Method,
                $"{Words.Place(s.From)} to {Words.Place(s.To)}",
                s.Efficiency.Value is { } e ? FigureText.Of(FigureText.Percent(e)) : FigureText.Of(s.Efficiency),
                FigureText.Of(s.Loss),
            ]));
        Notes(text, detail, ChainText.Losses(result));
    }

    private static void Placement(TerminalText text, AuditResult result)
    {
        if (result.Placement is { } placement)
        {
            text.Heading("Where the device lies");
            text.Bullets(
                [.. PlacementWords.Summary(placement),
                .. placement.Methods.SelectMany(m => new[] { m.WhyNoMap is null ? null : $"{m.Method}: {m.WhyNoMap}" }.OfType<string>()
                .Concat(m.Notes))]);
        }
    }

    private static void Standby(TerminalText text, Footnotes notes, AuditResult result, Detail detail)
    {
        text.Heading("Stand-by");
        text.Table(
            ["measured at", "method", "waiting", "full"],
            result.Methods.SelectMany(m => m.Points.Select(p => (IReadOnlyList<string>)
                [Words.Place(p.Key), m.Name, notes.Of(p.Value.NoLoadPower), notes.Of(p.Value.MaintenancePower)])));
        notes.Print();
        Notes(text, detail, ChainText.Standby(result));
    }

    private static void Notes(TerminalText text, Detail detail, IReadOnlyList<string> notes)
    {
        if (detail == Detail.Full && notes.Count > 0)
        {
            text.Bullets(notes);
        }
    }

    private static void Budget(TerminalText text, AuditResult result)
    {
        foreach (var comparison in result.Comparisons.Where(c => c.OverheadRatio.Value is not null))
        {
            var ratio = comparison.OverheadRatio.Value!;
            text.Heading($"Where the uncertainty of {comparison.Method} divided by {comparison.Reference} {Words.At(comparison.Point)} "
                + "comes from");
            var budget = Metrology.Uncertainty.Budget.Of(ratio);
            var shown = budget.Rows.Where(r => r.SharePercent >= LeastSharePercent).Take(MostBudgetRows).ToList();
            double rest = 100 - shown.Sum(r => r.SharePercent), others = Math.Sqrt(Math.Max(0, rest) / 100)
                * (ratio.StandardUncertainty ?? 0);
            var lines = shown.Select(r => (Name: r.Source.Id, U: r.StandardUncertainty, r.SharePercent)).ToList();
            if (budget.Rows.Count > shown.Count)
            {
                lines.Add(($"{FigureText.Count(budget.Rows.Count - shown.Count)} smaller ones together", others, Math.Max(0, rest)));
            }

            var shares = ShareText.Of([.. lines.Select(l => l.SharePercent)]);
            text.Table(
                ["source", "standard uncertainty", "share"],
                lines.Zip(shares, (l, share) => (IReadOnlyList<string>)[l.Name, FigureText.Plain(l.U, "1", 2), share]));
            foreach (string sentence in new[] { budget.Advice, budget.Warning }.OfType<string>())
            {
                text.Line(sentence);
            }
        }
    }

    // What is already said above the answer is not repeated.
    private static void Doubts(TerminalText text, AuditResult result, IReadOnlyList<string> saidAbove)
    {
        var doubts = Reports.Text.Doubts.Of(result, saidAbove).Select(d => d.Text)
            .Concat(saidAbove.Take(1).Select(_ => "What was assumed is listed above the answer."))
            .ToList();
        text.Heading("What to doubt");
        text.Bullets(doubts.Count > 0 ? doubts : ["Nothing was found that speaks against these figures."]);
    }
}
