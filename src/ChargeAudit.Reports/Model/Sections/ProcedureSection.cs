using ChargeAudit.Comparing.Procedures;
using ChargeAudit.Comparing.Results;
using ChargeAudit.Metrology;
using ChargeAudit.Reports.Text;

namespace ChargeAudit.Reports.Model.Sections;

/// <summary>The US procedure, where it was asked for.</summary>
internal static class ProcedureSection
{
    /// <summary>The section; null where no procedure was asked for.</summary>
    public static Section? Of(AuditResult result)
    {
        if (result.Procedure is not { } procedure)
        {
            return null;
        }

        var blocks = new List<Block>
        {
            new Paragraph("10 CFR part 430, subpart B, appendix Y, worked out from the logs at the wall. "
                + YardstickSection.NotACertificate),
            new Paragraph($"{Cautions.Laboratory} {Cautions.Line} {Cautions.InReport}"),
        };
        foreach (var method in procedure)
        {
            blocks.Add(new Subheading(method.Method));
            foreach (var test in method.Tests)
            {
                blocks.AddRange(Test(test));
            }

            if (method.Represented is { } sample)
            {
                blocks.Add(new Paragraph(Represented(sample)));
            }
        }

        blocks.Add(new Bullets(UsAppendixY.NamedOnly));
        return new Section("us-procedure", "US procedure", blocks);
    }

    /// <summary>The represented value as a sentence.</summary>
    public static string Represented(RepresentedValue sample) => sample.Represented is { } value
        ? $"Represented value: {FigureText.Plain(value, "kWh/a")}, the higher of the mean {FigureText.Plain(sample.Mean, "kWh/a")} and the "
            + $"upper limit {FigureText.Plain(sample.UpperLimit, "kWh/a")} divided by 1.05. {MethodProcedure.RepresentedNote}"
        : $"Represented value: none, as {sample.WhyNot}.";

    /// <summary>Which log was taken as the test, as a sentence.</summary>
    public static string From(ProcedureTest test) => test.Run is null
        ? "No log at the wall."
        : $"Run {test.Run} ({test.ChargeFile}); with no battery: {test.WaitingFile ?? "no log"}.";

    /// <summary>The class whose profile was used, in words.</summary>
    public static string Class(UsAppendixYResult found) => found.Class is { } usage
        ? InvariantText.Of(
            $"{usage.Number} "
            + $"({usage.Description}{(usage.BorderMark == SourceMark.Memory ? "; its borders from memory" : "")}"
                + $"{(usage.Mark == SourceMark.Memory ? "; its profile from memory" : "")})")
        : "not known: give battery-voltage and battery-discharge under [device]";

    private static IEnumerable<Block> Test(ProcedureTest test)
    {
        var found = test.Result;
        yield return new Paragraph($"{From(test)} Outcome: {found.Text}.");
        yield return new DataTable(
            $"Figures of the procedure{(test.Run is { } run ? $", {run}" : "")}",
            [new("What"), new("Figure", ColumnKind.Number)],
            [
                ["Unit energy consumption (UEC)", Cells.Of(found.Uec)],
                ["Class", Class(found)],
                ["Equation", found.Equation switch { UecEquation.One => "(i)", UecEquation.Two => "(ii)", _ => "none could be chosen" }],
                ["Length of the test that is asked for", FigureText.Plain(found.Test.DurationH, "h", 4)],
                ["Energy of the test (E24)", Cells.Of(found.Test.E24)],
                ["Maintenance power (Pm)", Cells.Of(found.Test.MaintenancePower)
                    + (found.Test.Window is { } window ? $"; {window.Basis}" : "")],
                ["Power with no battery (Psb)", Cells.Of(found.NoBatteryPower)],
                ["Discharge energy of the battery (Ebatt)", Cells.Of(found.BatteryEnergy)],
            ]);
        if (found.Limit is { } limit)
        {
            yield return new Paragraph($"Limit beside it: {limit.Text}");
        }

        yield return new DataTable(
            "Conditions of the procedure",
            [new("Condition"), new("State"), new("What is asked for and what was found")],
            [.. found.Checks.OrderBy(c => Rank(c.State)).Select(c => (IReadOnlyList<string>)[c.Id, State(c.State), c.Text])]);
        yield return new DataTable(
            "Separate figures of appendix Y1",
            [new("What"), new("Figure", ColumnKind.Number)],
            [
                ["Active charge energy", Cells.Of(found.AppendixY1.ActiveChargeEnergy)],
                ["Maintenance power", Cells.Of(found.AppendixY1.MaintenancePower)],
                ["Power with no battery", Cells.Of(found.AppendixY1.NoBatteryPower)],
                ["Stand-by power", Cells.Of(found.AppendixY1.StandbyPower)],
                ["Off power", Cells.Of(found.AppendixY1.OffPower)],
            ])
        {
            Folded = true,
        };
        yield return new Bullets(found.AppendixY1.Notes);
    }

    private static int Rank(ConditionState state) => state switch { ConditionState.NotMet => 0, ConditionState.NotShown => 1, _ => 2 };

    private static string State(ConditionState state) => state switch
    {
        ConditionState.Met => "met",
        ConditionState.NotMet => "not met",
        _ => "no log can show it",
    };
}
