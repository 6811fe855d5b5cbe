using ChargeAudit.Reports.Text;
using ChargeAudit.Studies.Drafting;

namespace ChargeAudit.Cli.Output;

/// <summary>What <c>draft</c> prints for people: what was found, what was guessed, and what is left to answer.</summary>
internal static class DraftSummary
{
    public static void Write(TerminalText text, StudyDraft draft, string file)
    {
        text.Title(
            $"{draft.Title}: {FigureText.Count(draft.Runs.Count)} charges and {FigureText.Count(draft.Standby.Count)} logs of waiting "
            + "chargers");
        text.Table(
            ["method", "charged", "charges", "waiting", "measured at"],
            draft.Methods.Select(m => (IReadOnlyList<string>)
            [
                m.Name,
                Words.Kind(m.Kind),
                FigureText.Count(draft.Runs.Count(r => r.Method == m.Name)),
                FigureText.Count(draft.Standby.Count(r => r.Method == m.Name)),
                string.Join(", ", draft.Runs.Concat(draft.Standby).Where(r => r.Method == m.Name).SelectMany(r => r.Logs.Keys).Distinct()
                    .Order().Select(Words.Place)),
            ]));
        Section(text, "Guessed", draft.Guesses);
        Section(text, "To be answered", draft.Questions);
        Section(text, "Not used", [.. draft.PassedOver.Select(p => $"{p.File}: {p.Why}")]);
        text.Heading("Written");
        text.Line(
            $"{file}. It also asks for the meters' accuracies, the states of charge, the use and the price. What is not answered is never "
            + "made up.");
    }

    private static void Section(TerminalText text, string heading, IReadOnlyList<string> lines)
    {
        if (lines.Count > 0)
        {
            text.Heading(heading);
            text.Bullets(lines);
        }
    }
}
