using ChargeAudit.Cli.Output;
using ChargeAudit.Reports.Text;

namespace ChargeAudit.Cli.Folders;

/// <summary>What <c>audit FOLDER</c> says before the answer: which study was used, or what was assumed in place of one.</summary>
internal static class FolderText
{
    private const int MostFiles = 8;

    public static void Write(TerminalText text, FolderStudy? found, string? folder)
    {
        if (found is null)
        {
            return;
        }

        if (found.Draft is not { } draft)
        {
            text.Line($"The study file {found.File} was found in the folder and used.");
            text.Line("");
            return;
        }

        text.Title(folder is null ? "Assumed, since no study file was named" : "Assumed, since the folder holds no study file");
        text.Bullets(found.Assumptions);

        // Nobody expects the report of an earlier audit among the logs.
        var passedOver = draft.PassedOver.Where(p => !p.IsOurs).ToList();
        if (passedOver.Count > 0)
        {
            text.Line(passedOver.Count == 1 ? "One file was not used:" : $"{FigureText.Count(passedOver.Count)} files were not used:");
            text.Bullets([.. passedOver.Take(MostFiles).Select(p => $"{p.File}: {p.Why}"), .. passedOver.Skip(MostFiles).Take(1)
                .Select(_ => $"and {FigureText.Count(passedOver.Count - MostFiles)} more, named in results.json")]);
        }

        text.Line(
            $"To correct any of this: chargeaudit draft {NextStep.Quoted(folder ?? "FOLDER")} writes it into a study "
            + $"file{(found.Study.Tariff is null ? ". For a cost: add --price and --currency" : "")}.");
        text.Line("");
    }
}
