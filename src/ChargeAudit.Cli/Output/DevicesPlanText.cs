using ChargeAudit.Checking;
using ChargeAudit.Metrology;
using ChargeAudit.Pooling.Planning;
using ChargeAudit.Reports.Text;

namespace ChargeAudit.Cli.Output;

/// <summary>What <c>plan</c> prints of devices and runs.</summary>
internal static class DevicesPlanText
{
    public static void Write(TerminalText text, DevicesAim aim, IReadOnlyList<DevicesChoice> choices)
    {
        text.Title(
            $"To know {(aim.OfAnotherDevice ? "the overhead ratio of another device" : "the mean overhead ratio over devices")} within "
            + $"{CheckReasons.Percent(aim.Within)} to either side");
        text.Line(
            $"Expected: a spread of {CheckReasons.Percent(aim.Spread)} between devices, and runs that scatter by "
            + $"{CheckReasons.Percent(aim.Repeatability)}. Intervals of 95 %.");
        if (choices.Count == 0)
        {
            text.Line(aim.OfAnotherDevice
                ? "No number of devices will do: devices differ by more than that, and no average makes them alike."
                : "No number of devices up to 2000 will do with up to ten runs of each.");
            return;
        }

        bool cost = aim.CostPerDevice > 0 || aim.CostPerRun > 0;
        text.Table(
            ["devices", "runs of each method", "half-width reached", cost ? "cost" : "runs in all"],
            choices.Select(c => (IReadOnlyList<string>)
            [
                InvariantText.Of($"{c.Devices}"), InvariantText.Of($"{c.Runs}"), CheckReasons.Percent(c.HalfWidth),
                cost ? Prose.Of($"{c.Cost:0.##}") : InvariantText.Of($"{2 * c.Runs * c.Devices}"),
            ]));
        text.Line(cost
            ? "The cheapest stands first."
            : "The one with the fewest runs stands first; --cost-per-run and --cost-per-device weigh them.");
        text.Line("");
        text.Line($"{Cautions.Line} {CautionText.Elsewhere}");
    }
}
