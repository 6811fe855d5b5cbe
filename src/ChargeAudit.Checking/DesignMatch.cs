using ChargeAudit.Comparing.Placement;
using ChargeAudit.Logs;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Metrology.Uncertainty;
using ChargeAudit.Studies;

namespace ChargeAudit.Checking;

/// <summary>Refuses a baseline that cannot be compared: another device, other points, meters or another procedure.</summary>
internal static class DesignMatch
{
    /// <summary>A state of charge is shown in whole per cents. [%]</summary>
    private const double StateTolerancePercent = 1;

    public static void Devices(MeasuredDesign candidate, MeasuredDesign baseline)
    {
        if (candidate.DeviceName != baseline.DeviceName)
        {
            throw Refuse(
                $"the device is {Named(candidate.DeviceName)} in the study and {Named(baseline.DeviceName)} in the baseline; compare one "
                + "device with itself, or give both the same [device] name");
        }

        if (candidate.BatteryWh != baseline.BatteryWh)
        {
            throw Refuse(
                InvariantText.Of(
                    $"the device's battery is {Wh(candidate.BatteryWh)} in the study and {Wh(baseline.BatteryWh)} in the baseline; compare "
                + $"one device with itself"));
        }
    }

    public static void Methods(DesignMethod candidate, DesignMethod baseline)
    {
        string name = candidate.Name;
        if (candidate.Kind != baseline.Kind)
        {
            throw Refuse(
                $"{name} is {StableName.Of(candidate.Kind)} in the study and {StableName.Of(baseline.Kind)} in the baseline; name "
                + "them apart");
        }

        if (!candidate.Points.Keys.ToHashSet().SetEquals(baseline.Points.Keys))
        {
            throw Refuse(
                $"{name} was measured at {Points(candidate)} in the study and at {Points(baseline)} in the baseline; measure both at the "
                + "same points");
        }

        foreach (var point in candidate.Points.Keys)
        {
            Meters(name, point, MetersOf(candidate, point), MetersOf(baseline, point));
        }

        Settings(name, candidate.Runs, baseline.Runs);
        States(name, "start", candidate.Runs.Select(r => r.StartChargePercent), baseline.Runs.Select(r => r.StartChargePercent));
        States(name, "end", candidate.Runs.Select(r => r.EndChargePercent), baseline.Runs.Select(r => r.EndChargePercent));
    }

    /// <summary>Meters that a method was measured with at a point. Stand-by logs name theirs through the sources of error alone.</summary>
    public static SortedSet<string> MetersOf(DesignMethod method, MeasuringPoint point)
    {
        var meters = new SortedSet<string>(StringComparer.Ordinal);
        meters.UnionWith(method.Runs.Where(r => r.Points.ContainsKey(point)).Select(r => r.Points[point].Meter ?? "(not named)"));
        foreach (var component in method.Points[point].NoLoadPower.Value?.Components ?? [])
        {
            if (component.Source is { Owner: SourceOwner.Meter, OwnerName: { } meter })
            {
                meters.Add(meter);
            }
        }

        return meters;
    }

    private static void Meters(string method, MeasuringPoint point, SortedSet<string> candidate, SortedSet<string> baseline)
    {
        if (!candidate.SetEquals(baseline))
        {
            throw Refuse(
                $"{method} was measured {PlainWords.At(point)} with {string.Join(" and ", candidate)} in the study and with "
                + $"{string.Join(" and ", baseline)} in the baseline; measure both with the same meter, under the same name");
        }
    }

    // The same settings on both sides, each as often in proportion: a mean over other places is another figure.
    private static void Settings(string method, IReadOnlyList<DesignRun> candidate, IReadOnlyList<DesignRun> baseline)
    {
        foreach (var factor in Enum.GetValues<Factor>())
        {
            var (a, b) = (Levels(factor, candidate), Levels(factor, baseline));
            if (candidate.Count > 0 && baseline.Count > 0 && !a.SequenceEqual(b))
            {
                throw Refuse(
                    $"{FactorWords.Of(factor)} of the runs of {method} is {Told(a)} in the study and {Told(b)} in the baseline; measure "
                    + "both with the same settings, each as often");
            }
        }
    }

    private static List<(string Level, double Share)> Levels(Factor factor, IReadOnlyList<DesignRun> runs) =>
        [.. runs.GroupBy(r => Level(factor, r.Factors), StringComparer.Ordinal).OrderBy(g => g.Key, StringComparer.Ordinal)
            .Select(g => (g.Key, Math.Round((double)g.Count() / runs.Count, 6)))];

    // A room is never at the same temperature twice, to the degree.
    private static string Level(Factor factor, RunFactors factors) => !factors.Has(factor) ? "not given"
        : factor == Factor.Case ? factors.Case!
        : factor == Factor.Temperature ? "given"
        : FactorWords.Value(factor, factors.Of(factor)!.Value);

    private static string Told(List<(string Level, double Share)> levels) =>
        string.Join(", ", levels.Select(l => l.Share < 1 ? Prose.Of($"{l.Level} ({100 * l.Share:0} %)") : l.Level));

    private static void States(string method, string which, IEnumerable<double?> candidate, IEnumerable<double?> baseline)
    {
        var (a, b) = (candidate.ToList(), baseline.ToList());
        if (a.Count == 0 || b.Count == 0)
        {
            return;
        }

        if (a.Contains(null) != b.Contains(null))
        {
            throw Refuse(
                $"the state of charge at the {which} of the runs of {method} is given in the "
                + $"{(a.Contains(null) ? "baseline but not in the study" : "study but not in the baseline")}; give {which}-charge for "
                + "every run of both, or of none");
        }

        if (!a.Contains(null) && Math.Abs(a.Average()!.Value - b.Average()!.Value) > StateTolerancePercent)
        {
            throw Refuse(
                Prose.Of(
                    $"the runs of {method} {which} at a state of charge of {a.Average():0.#} % in the study and {b.Average():0.#} % in the "
                + $"baseline; charge over the same span"));
        }
    }

    private static string Named(string? name) => name is null ? "not named" : $"\"{name}\"";

    private static string Wh(double? battery) => battery is { } wh ? Prose.Of($"{wh} Wh") : "not given";

    private static string Points(DesignMethod method) => method.Points.Count == 0
        ? "no point"
        : string.Join(" and ", method.Points.Keys.Order().Select(StableName.Of));

    private static InputException Refuse(string why) => new(InputProblem.Unusable, $"the baseline cannot be compared: {why}");
}
