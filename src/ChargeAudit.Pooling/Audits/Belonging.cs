using ChargeAudit.Checking;
using ChargeAudit.Logs;
using ChargeAudit.Metrology;
using ChargeAudit.Studies;

namespace ChargeAudit.Pooling.Audits;

/// <summary>
/// Which audits belong together: one measuring point, charges over the same states of the battery, and ends told in the same way. The
/// largest group is pooled; the others are left out and named. An audit that is given twice counts once.
/// </summary>
internal static class Belonging
{
    /// <summary>A state of charge is shown in whole per cents. [%]</summary>
    private const double StateTolerancePercent = 1;

    public static (IReadOnlyList<PooledAudit> Together, IReadOnlyList<string> Apart) Of(IReadOnlyList<PooledAudit> audits,
        MeasuringPoint point)
    {
        var apart = new List<string>();
        var kept = new List<PooledAudit>();
        foreach (var audit in audits)
        {
            if (kept.FirstOrDefault(k => SameMeasurement(k, audit, point)) is { } twin)
            {
                apart.Add($"{audit.File}: the same audit as {twin.File}, by the hashes of its logs; it counts once");
            }
            else if (!audit.Design.Methods.Any(m => m.Name != audit.Reference && m.Points.ContainsKey(point)))
            {
                apart.Add($"{audit.File}: no method but {audit.Reference} was measured {PlainWords.At(point)}");
            }
            else
            {
                kept.Add(audit);
            }
        }

        var groups = new List<List<PooledAudit>>();
        foreach (var audit in kept)
        {
            if (groups.FirstOrDefault(g => WhyApart(g[0], audit, point) is null) is { } group)
            {
                group.Add(audit);
            }
            else
            {
                groups.Add([audit]);
            }
        }

        var together = groups.MaxBy(g => g.Count) ?? [];
        apart.AddRange(groups.Where(g => g != together).SelectMany(g => g).Select(a => $"{a.File}: {WhyApart(together[0], a, point)}"));
        return (together, apart);
    }

    // A reference run may serve two audits; an inductive one that does is the same measurement.
    private static bool SameMeasurement(PooledAudit a, PooledAudit b, MeasuringPoint point) =>
        a.Design.Sha256 == b.Design.Sha256 || Logs(a, point).Overlaps(Logs(b, point));

    private static HashSet<string> Logs(PooledAudit audit, MeasuringPoint point) =>
        audit.Design.Methods.Where(m => m.Name != audit.Reference)
        .SelectMany(m => m.Runs).Where(r => r.Points.ContainsKey(point)).SelectMany(r => r.Points[point].Sha256)
            .ToHashSet(StringComparer.Ordinal);

    private static string? WhyApart(PooledAudit a, PooledAudit b, MeasuringPoint point) =>
        a.EndedByRule != b.EndedByRule ? $"its charges end {Ended(b)}, and those of most others {Ended(a)}"
        : a.Procedure != b.Procedure ? $"it follows {b.Procedure ?? "no published procedure"}, and most others {a.Procedure ?? "none"}"
        : States(a, b, point, r => r.StartChargePercent, "start") ?? States(a, b, point, r => r.EndChargePercent, "end");

    private static string Ended(PooledAudit audit) => audit.EndedByRule
        ? "where a rule finds the end"
        : "where the device said that it was full";

    private static string? States(PooledAudit a, PooledAudit b, MeasuringPoint point, Func<DesignRun, double?> state, string which)
    {
        var (first, second) = (Mean(a, point, state), Mean(b, point, state));
        return first is null && second is null ? null
            : first is { } x && second is { } y && Math.Abs(x - y) <= StateTolerancePercent ? null
            : $"its charges {which} at {Told(second)}, and those of most others at {Told(first)}";
    }

    private static double? Mean(PooledAudit audit, MeasuringPoint point, Func<DesignRun, double?> state)
    {
        double?[] states = [.. audit.Design.Methods.SelectMany(m => m.Runs).Where(r => r.Points.ContainsKey(point)).Select(state)];
        return states.Contains(null) ? null : states.Average();
    }

    private static string Told(double? state) => state is { } known ? Prose.Of($"{known:0.#} %") : "a state that is not given";
}
