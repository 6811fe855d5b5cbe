using System.Globalization;
using ChargeAudit.Checking.Documents;
using ChargeAudit.Comparing.Procedures;
using ChargeAudit.Comparing.Results;
using ChargeAudit.Metrology;

namespace ChargeAudit.Reports.Json;

/// <summary>Published limits and procedures beside the figures, in JSON.</summary>
internal static class PublishedJson
{
    private const string NoRunAtTheWall = "no run was measured at the wall";

    /// <summary>The published limits of a method.</summary>
    public static YardsticksDocument Yardsticks(MethodYardsticks y) => new(y.Method, [.. y.Findings.Select(Limit)]);

    /// <summary>A procedure, worked out.</summary>
    public static ProcedureDocument Procedure(IReadOnlyList<MethodProcedure> methods) =>
        new(StableName.Of(PublishedProcedure.UsAppendixY), "10 CFR part 430, subpart B, appendix Y", Certificate: false,
            [.. methods.Select(Method)]);

    private static LimitDocument Limit(YardstickFinding finding)
    {
        var published = finding.Yardstick;
        return new(
            published.Id,
            published.What,
            published.AtMost ? "at-most" : "at-least",
            Known.Finite(finding.Limit),
            Known.Unless(finding.Limit, "the limit is not known to this program"),
            published.Unit,
            finding.Value.Json(),
            finding.Value.Why(),
            StableName.Of(finding.Standing),
            published.Source,
            Day(published.AppliesFrom),
            published.AppliesUntil is { } end ? Day(end) : null,
            Known.Unless(published.AppliesUntil, "no end is known"),
            StableName.Of(published.Mark),
            published.ReadOn is { } read ? Day(read) : null,
            Known.Unless(published.ReadOn, "its text was never read"),
            finding.Doubt,
            Known.Unless(finding.Doubt, "nothing speaks against this limit"),
            finding.Text);
    }

    private static MethodProcedureDocument Method(MethodProcedure method) => new(
        method.Method,
        [.. method.Tests.Select(Test)],
        method.Represented is { } sample
            ? new(
                Known.Finite(sample.Mean),
                Known.Finite(sample.UpperLimit),
                Known.Unless(sample.UpperLimit, "one test has no confidence limit"),
                Known.Finite(sample.Represented),
                Known.Unless(sample.Represented, sample.WhyNot ?? "not known"),
                "kWh/a",
                MethodProcedure.RepresentedNote)
            : null,
        Known.Unless(method.Represented, "no test gives a unit energy consumption"));

    private static ProcedureTestDocument Test(ProcedureTest test)
    {
        var found = test.Result;
        string? equation = found.Equation switch { UecEquation.One => "i", UecEquation.Two => "ii", _ => null };
        return new(
            test.Run,
            Known.Unless(test.Run, NoRunAtTheWall),
            test.ChargeFile,
            Known.Unless(test.ChargeFile, NoRunAtTheWall),
            test.WaitingFile,
            Known.Unless(test.WaitingFile, "there is no log of the waiting charger at the wall"),
            StableName.Of(found.Verdict),
            found.Text,
            found.Class?.Number,
            Known.Unless(found.Class, "the battery is not known well enough to choose one"),
            found.Class is { } usage ? StableName.Of(usage.Mark) : null,
            Known.Unless(found.Class, "there is no class"),
            equation,
            Known.Unless(equation, "none could be chosen"),
            found.Uec.Json(),
            found.Uec.Why(),
            Known.Finite(found.Test.DurationH),
            found.Test.E24.Json(),
            found.Test.E24.Why(),
            found.Test.MaintenancePower.Json(),
            found.Test.MaintenancePower.Why(),
            found.Test.Window?.Basis,
            Known.Unless(found.Test.Window, "there is no power when full"),
            found.NoBatteryPower.Json(),
            found.NoBatteryPower.Why(),
            found.OffPower.Json(),
            found.OffPower.Why(),
            found.BatteryEnergy.Json(),
            found.BatteryEnergy.Why(),
            [.. found.Checks.Select(c => new ConditionDocument(c.Id, StableName.Of(c.State), c.Text))],
            found.Limit is { } limit ? Limit(limit) : null,
            Known.Unless(found.Limit, "there is no class to look it up for"),
            AppendixY1(found.AppendixY1));
    }

    private static AppendixY1Document AppendixY1(AppendixY1Figures y1) => new(
        y1.ActiveChargeEnergy.Json(),
        y1.ActiveChargeEnergy.Why(),
        y1.MaintenancePower.Json(),
        y1.MaintenancePower.Why(),
        y1.NoBatteryPower.Json(),
        y1.NoBatteryPower.Why(),
        y1.StandbyPower.Json(),
        y1.StandbyPower.Why(),
        y1.OffPower.Json(),
        y1.OffPower.Why(),
        Known.Finite(y1.DurationH),
        Known.Unless(y1.DurationH, "it is not represented for this sort of charger"),
        y1.Notes);

    private static string Day(DateOnly day) => day.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);
}
