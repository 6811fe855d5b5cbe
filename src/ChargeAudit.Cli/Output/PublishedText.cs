using ChargeAudit.Comparing.Procedures;
using ChargeAudit.Comparing.Results;
using ChargeAudit.Metrology;
using ChargeAudit.Reports.Text;

namespace ChargeAudit.Cli.Output;

/// <summary>What <c>audit</c> prints of published limits, in short, and of the US procedure where it was asked for.</summary>
internal static class PublishedText
{
    public static void Write(TerminalText text, Footnotes notes, AuditResult result, Detail detail)
    {
        var all = result.Yardsticks.SelectMany(y => y.Findings, (y, f) => (y.Method, Finding: f)).ToList();
        var compared = all.Where(f => f.Finding.Standing != Standing.NotCompared).ToList();
        if (all.Count > 0 && detail == Detail.Full)
        {
            // What is only named is said once, and the report says for each method why nothing is compared.
            text.Heading("Published limits, for information; not a certificate");
            text.Bullets(compared.Select(f => $"{f.Method}: {Short(notes, f.Finding)}").Concat(
                all.Where(f => compared.All(c => c.Finding.Yardstick.Id != f.Finding.Yardstick.Id))
                    .DistinctBy(f => f.Finding.Yardstick.Id)
                    .Select(f => $"named only, nothing is compared: {Limit(f.Finding)}. {f.Finding.Yardstick.SourceLine()}.")));
            notes.Print();
        }

        if (result.Procedure is not { } procedure)
        {
            return;
        }

        text.Heading("US procedure (10 CFR 430 subpart B appendix Y); not a certificate");
        foreach (var method in procedure)
        {
            foreach (var test in method.Tests)
            {
                text.Line($"{method.Method}{(test.Run is { } run ? $", run {run}" : "")}: {test.Result.Text}");
                text.Bullets([.. Figures(notes, test.Result), .. test.NotMet.Select(n => $"not met: {n}")]);
                notes.Print();
            }

            if (method.Represented is { Represented: { } value })
            {
                text.Line($"{method.Method}: represented value {FigureText.Plain(value, "kWh/a")}. {MethodProcedure.RepresentedNote}");
            }
        }
    }

    private static IEnumerable<string> Figures(Footnotes notes, UsAppendixYResult found)
    {
        yield return $"unit energy consumption: {notes.Of(found.Uec)}";
        if (found.Uec.Value is null)
        {
            yield break;
        }

        string equation = found.Equation == UecEquation.One ? "(i)" : "(ii)";
        yield return $"class {found.Class!.Number}, equation {equation}; E24 {notes.Of(found.Test.E24)}, Pm "
            + $"{notes.Of(found.Test.MaintenancePower)}, Psb {notes.Of(found.NoBatteryPower)}, Ebatt {notes.Of(found.BatteryEnergy)}";
        if (found.Limit is { } limit)
        {
            yield return $"limit of the class, for information: {Short(notes, limit)}";
        }
    }

    private static string Limit(YardstickFinding finding) => finding.Limit is { } at
        ? Prose.Of($"{finding.Yardstick.What}: {(finding.Yardstick.AtMost ? "at most" : "at least")} {at:0.####} {Unit(finding)}")
            .TrimEnd()
        : $"{finding.Yardstick.What}: {finding.Yardstick.Rule}";

    private static string Unit(YardstickFinding finding) => finding.Yardstick.Unit == "1" ? "" : finding.Yardstick.Unit;

    private static string Short(Footnotes notes, YardstickFinding finding)
    {
        string standing = finding.Standing switch
        {
            Standing.Inside => $"{notes.Of(finding.Value)} is inside it",
            Standing.Beyond => $"{notes.Of(finding.Value)} is beyond it",
            Standing.CannotTell => $"on which side {notes.Of(finding.Value)} lies cannot be told",
            _ => "nothing is compared",
        };
        return $"{Limit(finding)}; {standing}. {finding.Yardstick.SourceLine()}.{(finding.Doubt is { } doubt ? $" {doubt}" : "")}";
    }
}
