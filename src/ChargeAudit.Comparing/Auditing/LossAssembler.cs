using ChargeAudit.Comparing.Losses;
using ChargeAudit.Comparing.Methods;
using ChargeAudit.Comparing.Results;
using ChargeAudit.Comparing.Runs;
using ChargeAudit.Logs;
using ChargeAudit.Metrology.Repeats;
using ChargeAudit.Metrology.Uncertainty;
using ChargeAudit.Studies;

namespace ChargeAudit.Comparing.Auditing;

/// <summary>Splits the loss of a method's charges by what was measured and given, and averages the parts over the runs.</summary>
internal static class LossAssembler
{
    /// <summary>One entry for each method with two figures of one charge; a run that lacks one of the method's points does not
    /// count.</summary>
    public static IEnumerable<LossResult> Of(Study study, MethodResult method)
    {
        var own = study.Methods.First(m => m.Name == method.Name);
        var counted = method.Runs.Where(r => r.Excluded is null && r.Points.Count > 0).ToList();
        int most = counted.Select(r => r.Points.Count).DefaultIfEmpty(0).Max();
        var runs = counted.Where(r => r.Points.Count == most
            && r.Points.Keys.ToHashSet().SetEquals(counted.First(c => c.Points.Count == most).Points.Keys)).ToList();
        if (runs.Count == 0)
        {
            yield break;
        }

        var inputs = runs.Select(r => InputOf(study, own, r)).ToList();
        bool stored = inputs.TrueForAll(i => i.StoredWh is not null);
        var splits = inputs.Select(i => LossSplit.Of(stored ? i : i with { StoredWh = null })).ToList();
        if (splits[0].Count == 0 || splits.Any(s => s.Count != splits[0].Count))
        {
            yield break;
        }

        var points = runs[0].Points.Keys.Order().ToList();
        var blocks = RunBlocks.Of(runs);
        string battery = stored ? StoredFrom(study) : "";
        var parts = Enumerable.Range(0, splits[0].Count).Select(i =>
            Mean(method.Name, [.. splits.Select(s => s[i])], battery, blocks)).ToList();
        var into = Repeatability.Combine([.. runs.Select(r => r.Points[points[0]].Energy)],
            InfluenceSource.ScatterOf(method.Name, StudyWords.Of(points[0])), blocks).Mean;
        var last = Repeatability.Combine([.. runs.Select(r => r.Points[points[^1]].Energy)],
            InfluenceSource.ScatterOf(method.Name, StudyWords.Of(points[^1])), blocks).Mean;
        var arrives = stored
            ? Figure.Of(Measured.Unknown(inputs.Average(i => i.StoredWh!.Value), "Wh", inputs[0].StoredWh!.UnknownBecause!), battery)
            : Figure.Of(last);
        yield return new LossResult(
            method.Name, points[0], Figure.Of(into), parts, arrives, stored ? null : points[^1], stored
                ? null
                : Beyond(method.Kind, points[^1]));
    }

    private static LossPart Mean(string method, List<LossPart> runs, string battery, IReadOnlyList<string>? blocks)
    {
        var scatter = InfluenceSource.ScatterOf(method, $"loss-in-{LossSplit.Name(runs[0]).Replace(' ', '-')}");
        var known = runs.Select(p => p.EnergyWh.Value!).ToList();
        string? assumed = runs[0].EnergyWh.Assumed ?? (runs[0].To is null ? battery : null);
        return runs[0] with { EnergyWh = Figure.Of(Repeatability.Combine(known, scatter, blocks).Mean, assumed) };
    }

    private static LossInput InputOf(Study study, Method method, RunResult run)
    {
        var current =
            run.Points.Where(p => p.Key == MeasuringPoint.Usb || (p.Key == MeasuringPoint.Device && method.Kind == MethodKind.Wired))
            .OrderBy(p => p.Key).Select(p => SquaredCurrent(p.Value)).FirstOrDefault(s => s > 0);
        return new LossInput
        {
            Kind = method.Kind,
            EnergyWh = run.Points.ToDictionary(p => p.Key, p => p.Value.Energy),
            CableOhm = method.CableOhm,
            CurrentSquaredA2S = current > 0 ? current : null,
            StoredWh = Stored(study, run),
        };
    }

    private static double SquaredCurrent(RunPointResult at) => at.Sums.SquaredCurrentS;

    // A battery gives back less than it took, so what it can give, by the share charged, is the least that was stored.
    private static Measured? Stored(Study study, RunResult run)
    {
        double? whole = study.Device.BatteryDischargeWh ?? study.Device.BatteryWh;
        return whole is { } wh && run.StartChargePercent is { } start && run.EndChargePercent is { } end && end > start
            ? Measured.Unknown(wh * (end - start) / 100, "Wh",
                "how well the battery's energy and its state of charge are known was not stated")
            : null;
    }

    private static string StoredFrom(Study study) => study.Device.BatteryDischargeWh is not null
        ? "the battery's measured discharge energy and the states of charge given"
        : "the battery's rated energy, which an aged battery no longer holds, and the states of charge given";

    private static string? Beyond(MethodKind kind, MeasuringPoint last)
    {
        string[] places = last switch
        {
            MeasuringPoint.Wall => ["adapter", "cable", .. Pad(kind), "device electronics", "battery"],
            MeasuringPoint.Usb => ["cable", .. Pad(kind), "device electronics", "battery"],
            MeasuringPoint.Device => ["device electronics", "battery"],
            _ => ["battery"],
        };
        return $"What is lost further on ({string.Join(", ", places)}) is not separated: no meter sat there, and the battery's energy with "
            + "its states of charge is not given.";
    }

    private static string[] Pad(MethodKind kind) => kind == MethodKind.Inductive ? ["pad and receiver"] : [];
}
