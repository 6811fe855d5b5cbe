using System.Globalization;
using System.Text;
using ChargeAudit.Metrology;
using ChargeAudit.Simulation.Randomness;
using ChargeAudit.Simulation.Scenarios;

namespace ChargeAudit.Simulation;

/// <summary>One device of a family.</summary>
/// <param name="Folder">Folder of its study.</param>
/// <param name="Scenario">Its own scenario.</param>
/// <param name="Seed">Seed of its runs.</param>
/// <param name="Receiver">Factor on the power that its receiver takes for one watt delivered. [1]</param>
/// <param name="Battery">Factor on its battery's energy. [1]</param>
public sealed record FamilyMember(string Folder, SimulationScenario Scenario, ulong Seed, double Receiver, double Battery);

/// <summary>Makes the devices of a family, all measured with the same meters.</summary>
public static class FamilySimulation
{
    /// <summary>The devices.</summary>
    /// <param name="scenario">A scenario with a family.</param>
    /// <param name="seed">The seed; each device has its own named streams of it.</param>
    public static IReadOnlyList<FamilyMember> Members(SimulationScenario scenario, ulong seed)
    {
        ArgumentNullException.ThrowIfNull(scenario);
        var family = scenario.Family ?? throw new ArgumentException("the scenario has no family", nameof(scenario));
        return [.. Enumerable.Range(1, family.Devices)
            .Select(n => Member(scenario, family, n, new RandomSource(seed).Named(InvariantText.Of($"family/{n}"))))];
    }

    /// <summary>The list for <c>pool</c>, TOML.</summary>
    public static string List(SimulationScenario scenario, IReadOnlyList<FamilyMember> members)
    {
        string title = scenario.Title.Replace("\\", "\\\\", StringComparison.Ordinal).Replace("\"", "\\\"", StringComparison.Ordinal);
        var text = new StringBuilder($"title = \"{title}\"\n");
        if (scenario.Use is { } use)
        {
            text.Append(CultureInfo.InvariantCulture,
                $"\n[use]\ncharges-per-week = {use.ChargesPerWeek}\ncharge-share = {use.ChargeSharePercent}\nplugged-in-all-day = "
                + $"{(use.PluggedInAllDay ? "true" : "false")}\n");
        }

        if (scenario.Tariff is { } tariff)
        {
            text.Append(CultureInfo.InvariantCulture, $"\n[tariff]\ncurrency = \"{tariff.Currency}\"\nprice = {tariff.PricePerKwh}\n");
        }

        foreach (var member in members)
        {
            text.Append(CultureInfo.InvariantCulture,
                $"\n[[audits]]\nresults = \"{member.Folder}/report/results.json\"\nfactors = {{ battery-wh = "
                + $"{Math.Round(member.Scenario.Device.BatteryWh, 3)} }}\n");
        }

        return text.ToString();
    }

    /// <summary>What sets each device apart, JSON.</summary>
    public static string Truth(SimulationScenario scenario, ulong seed, IReadOnlyList<FamilyMember> members)
    {
        var family = scenario.Family!;
        var text =
            new StringBuilder(
                InvariantText.Of(
                    $"{{\n  \"seed\": {seed},\n  \"receiverSpread\": {family.ReceiverSpread},\n  \"batterySpread\": "
            + $"{family.BatterySpread},\n  \"interactionSpread\": {family.InteractionSpread},\n  \"devices\": [\n"));
        text.AppendJoin(",\n",
            members.Select(m =>
            InvariantText.Of(
                $"    {{ \"folder\": \"{m.Folder}\", \"receiver\": {Math.Round(m.Receiver, 6)}, \"battery\": "
            + $"{Math.Round(m.Battery, 6)} }}")));
        return text.Append("\n  ]\n}\n").ToString();
    }

    private static FamilyMember Member(SimulationScenario scenario, FamilyModel family, int number, RandomSource random)
    {
        double receiver = Factor(random.Named("receiver"), family.ReceiverSpread),
            battery = Factor(random.Named("battery"), family.BatterySpread);
        var device = scenario.Device with
        {
            Name = InvariantText.Of($"{scenario.Device.Name} {number}"),
            BatteryWh = scenario.Device.BatteryWh * battery,
            ChargeCurrentA = scenario.Device.ChargeCurrentA * battery,
            TerminationCurrentA = scenario.Device.TerminationCurrentA * battery,
        };
        MethodModel Own(MethodModel method) => method.Pad is not { } pad ? method : method with
        {
            Pad = pad with
            {
                ReceiverShare = ((1 + pad.ReceiverShare) * receiver * Factor(random.Named("pad/" + method.Name), family.InteractionSpread))
                    - 1,
            },
        };
        var methods = scenario.Methods.ToDictionary(m => m.Name, Own, StringComparer.Ordinal);
        RunPlan Planned(RunPlan plan) => plan with { Method = methods[plan.Method.Name] };
        return new FamilyMember(
            InvariantText.Of($"device-{number}"),
            scenario with
            {
                Title = InvariantText.Of($"{scenario.Title}, device {number}"),
                Device = device,
                Methods = [.. methods.Values],
                Runs = [.. scenario.Runs.Select(Planned)],
                Waiting = [.. scenario.Waiting.Select(Planned)],
                Family = null,
            },
            random.Named("runs").NextBits(),
            receiver,
            battery);
    }

    private static double Factor(RandomSource random, double spread) =>
        PortableMath.Exp(spread * Math.Clamp(random.NextNormal(), -FamilyModel.Reach, FamilyModel.Reach));
}
