using System.Globalization;
using System.Text.Json;
using ChargeAudit.Comparing.Procedures;
using ChargeAudit.Comparing.Results;
using ChargeAudit.Metrology;

namespace ChargeAudit.Reports.Json;

/// <summary>Published limits and procedures beside the figures, in JSON.</summary>
internal static class PublishedJson
{
    /// <summary>Writes the members <c>yardsticks</c> and <c>procedure</c>.</summary>
    public static void Write(Utf8JsonWriter json, AuditResult result)
    {
        json.Objects("yardsticks", result.Yardsticks, y =>
        {
            json.WriteString("method", y.Method);
            json.Objects("limits", y.Findings, f => Limit(json, f));
        });
        if (result.Procedure is not { } procedure)
        {
            json.Missing("procedure", "none was asked for; audit --procedure us-appendix-y works one out");
            return;
        }

        json.Object("procedure", () =>
        {
            json.WriteString("name", "us-appendix-y");
            json.WriteString("source", "10 CFR part 430, subpart B, appendix Y");
            json.WriteBoolean("certificate", false);
            json.Objects("methods", procedure, m => Method(json, m));
        });
    }

    private static void Limit(Utf8JsonWriter json, YardstickFinding finding)
    {
        json.WriteString("id", finding.Yardstick.Id);
        json.WriteString("what", finding.Yardstick.What);
        json.WriteString("sense", finding.Yardstick.AtMost ? "at-most" : "at-least");
        json.Number("limit", finding.Limit, "the limit is not known to this program");
        json.WriteString("unit", finding.Yardstick.Unit);
        json.Figure("value", finding.Value);
        json.WriteString("standing", StableName.Of(finding.Standing));
        json.WriteString("source", finding.Yardstick.Source);
        json.WriteString("appliesFrom", Day(finding.Yardstick.AppliesFrom));
        if (finding.Yardstick.AppliesUntil is { } end)
        {
            json.WriteString("appliesUntil", Day(end));
        }
        else
        {
            json.Missing("appliesUntil", "no end is known");
        }

        json.WriteString("mark", StableName.Of(finding.Yardstick.Mark));
        LogJson.Optional(json, "readOn", finding.Yardstick.ReadOn is { } read ? Day(read) : null, "its text was never read");
        LogJson.Optional(json, "doubt", finding.Doubt, "nothing speaks against this limit");
        json.WriteString("text", finding.Text);
    }

    private static void Method(Utf8JsonWriter json, MethodProcedure method)
    {
        json.WriteString("method", method.Method);
        json.Objects("tests", method.Tests, t => Test(json, t));
        if (method.Represented is not { } sample)
        {
            json.Missing("represented", "no test gives a unit energy consumption");
            return;
        }

        json.Object("represented", () =>
        {
            json.Number("mean", sample.Mean);
            json.Number("upperLimit", sample.UpperLimit, "one test has no confidence limit");
            json.Number("value", sample.Represented, sample.WhyNot ?? "not known");
            json.WriteString("unit", "kWh/a");
            json.WriteString("note", MethodProcedure.RepresentedNote);
        });
    }

    private static void Test(Utf8JsonWriter json, ProcedureTest test)
    {
        var found = test.Result;
        LogJson.Optional(json, "run", test.Run, "no run was measured at the wall");
        LogJson.Optional(json, "chargeLog", test.ChargeFile, "no run was measured at the wall");
        LogJson.Optional(json, "waitingLog", test.WaitingFile, "there is no stand-by log at the wall");
        json.WriteString("verdict", StableName.Of(found.Verdict));
        json.WriteString("text", found.Text);
        json.Number("class", found.Class?.Number, "the battery is not known well enough to choose one");
        LogJson.Optional(json, "classMark", found.Class is { } usage ? StableName.Of(usage.Mark) : null, "there is no class");
        LogJson.Optional(json, "equation", found.Equation switch { UecEquation.One => "i", UecEquation.Two => "ii", _ => null }, "none could be chosen");
        json.Figure("unitEnergyConsumption", found.Uec);
        json.Number("testDurationH", found.Test.DurationH);
        json.Figure("e24", found.Test.E24);
        json.Figure("maintenancePower", found.Test.MaintenancePower);
        LogJson.Optional(json, "maintenanceWindow", found.Test.Window?.Basis, "there is no maintenance power");
        json.Figure("noBatteryPower", found.NoBatteryPower);
        json.Figure("offPower", found.OffPower);
        json.Figure("batteryEnergy", found.BatteryEnergy);
        json.Objects("conditions", found.Checks, c =>
        {
            json.WriteString("id", c.Id);
            json.WriteString("state", StableName.Of(c.State));
            json.WriteString("text", c.Text);
        });
        if (found.Limit is { } limit)
        {
            json.Object("limit", () => Limit(json, limit));
        }
        else
        {
            json.Missing("limit", "there is no class to look it up for");
        }

        json.Object("appendixY1", () =>
        {
            json.Figure("activeChargeEnergy", found.AppendixY1.ActiveChargeEnergy);
            json.Figure("maintenancePower", found.AppendixY1.MaintenancePower);
            json.Figure("noBatteryPower", found.AppendixY1.NoBatteryPower);
            json.Figure("standbyPower", found.AppendixY1.StandbyPower);
            json.Figure("offPower", found.AppendixY1.OffPower);
            json.Number("durationH", found.AppendixY1.DurationH, "it is not represented for this sort of charger");
            json.Strings("notes", found.AppendixY1.Notes);
        });
    }

    private static string Day(DateOnly day) => day.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);
}
