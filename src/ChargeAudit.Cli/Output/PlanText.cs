using System.Globalization;
using ChargeAudit.Checking;
using ChargeAudit.Checking.Planning;
using ChargeAudit.Metrology;
using ChargeAudit.Reports.Text;

namespace ChargeAudit.Cli.Output;

/// <summary>What <c>plan</c> prints for people.</summary>
internal static class PlanText
{
    public static void Write(TerminalText text, TestPlan plan)
    {
        var aim = plan.Aim;
        text.Title(aim.Aim == PlanAim.KeepMargin
            ? InvariantText.Of($"To show that a margin of {CheckReasons.Percent(aim.Share)} is kept")
            : InvariantText.Of($"To tell two methods apart that differ by {CheckReasons.Percent(aim.Share)}"));
        text.Line(aim.Aim == PlanAim.KeepMargin
            ? Prose.Of(
                $"A design that uses as much as its baseline passes with a probability of {aim.Power:0.##} (one-sided level {aim.Alpha}).")
            : Prose.Of($"The difference is found with a probability of {aim.Power:0.##} (two-sided level {aim.Alpha})."));
        text.Heading("Runs of each");
        text.Table(
            ["for", "scatter of a run", "with one meter", "with two meters", "power with one meter"],
            plan.Runs.Select(r => (IReadOnlyList<string>)
            [
                r.For,
                CheckReasons.Percent(r.Repeatability),
                r.SameMeter?.ToString(CultureInfo.InvariantCulture) ?? "no number will do",
                r.TwoMeters?.ToString(CultureInfo.InvariantCulture) ?? (plan.MeterKnown ? "no number will do" : "not known"),
                r.PowerReached is { } p ? Prose.Of($"{p:0.00}") : "",
            ]));
        text.Bullets(plan.Advice);
        if (plan.Standby is { } standby)
        {
            text.Heading(standby.Carries ? "Stand-by: it can be measured this way" : "Stand-by: it cannot be measured this way");
            text.Bullets(standby.Advice);
        }

        text.Line("");
        text.Line($"{Cautions.Line} {CautionText.Elsewhere}");
    }
}
