using ChargeAudit.Logs;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Pooling;
using ChargeAudit.Pooling.Audits;
using ChargeAudit.Pooling.Results;

namespace ChargeAudit.Tests.Pooling;

/// <summary>What is pooled, what is left out, and what audits share.</summary>
public sealed class PoolerTests
{
    private static readonly double[] Cable = [9.9, 10, 10.1];

    private static PooledAudit Device(int number, double padWh, string? instrument = null, double gain = 0.005, string? reference = null) =>
        PoolCases.Audit(
        InvariantText.Of($"d{number}"), Cable, PoolCases.OnPad(0.99 * padWh, padWh, 1.01 * padWh), gain: gain, instrument: instrument,
            referenceLogs: reference);

    private static PooledFigure Of(PoolResult pool, PoolFigure figure) => pool.Figures.First(f => f.Figure == figure);

    // The arithmetic by hand: equal uncertainties weigh alike, so the mean of the logarithms is the plain one.
    [Fact]
    public void The_mean_overhead_of_equally_good_audits_is_the_geometric_mean()
    {
        var answer = Of(Pooler.Run([Device(1, 13), Device(2, 14), Device(3, 15), Device(4, 16)], []), PoolFigure.OverheadRatio).Answer!;
        Assert.Equal(Math.Pow(1.3 * 1.4 * 1.5 * 1.6, 0.25), answer.Mean.Value, 1e-9);
        Assert.Equal(3, answer.MeanDegreesOfFreedom);
        Assert.True(answer.AnotherDevice.Low < answer.Mean.Low && answer.AnotherDevice.High > answer.Mean.High);
        Assert.True(answer.NextMeasurement.Low <= answer.AnotherDevice.Low && answer.NextMeasurement.High >= answer.AnotherDevice.High);
        Assert.Equal(1, answer.Shares.Sum(s => s.Share), 1e-9);
    }

    [Fact]
    public void Two_devices_give_their_list_only()
    {
        var pool = Pooler.Run([Device(1, 13), Device(2, 14)], []);
        var figure = Of(pool, PoolFigure.OverheadRatio);
        Assert.Null(figure.Answer);
        Assert.Contains("need at least 3", figure.WhyNot, StringComparison.Ordinal);
        Assert.Equal([1.3, 1.4], figure.Devices.Select(d => Math.Round(d.Own.Value, 9)));
        Assert.Null(pool.Ranking);
    }

    // One gain of 0.5 % (a standard uncertainty) that all share stays in full: with devices alike to 0.1 % it is all there is.
    [Fact]
    public void The_gain_of_one_instrument_stays_in_the_mean_and_that_of_several_averages_out()
    {
        double[] energies = [14, 14.01, 13.99, 14.005, 13.995, 14.002, 13.998, 14];
        PooledAnswer Answer(Func<int, string> key) =>
            Of(Pooler.Run([.. energies.Select((e, i) => Device(i, e, key(i)))], []), PoolFigure.EnergyPerCharge).Answer!;
        var one = Answer(_ => "bench 1");
        var several = Answer(i => InvariantText.Of($"bench {i}"));
        Assert.InRange(one.MeanU, 0.005, 0.007);
        Assert.InRange(several.MeanU, 0.0005, 0.004);
        Assert.True(one.Shares.Single(s => s.What == "meter-gain (meter)").SharedByAll);
        Assert.False(several.Shares.Single(s => s.What == "meter-gain (meter)").SharedByAll);
    }

    [Fact]
    public void Meters_of_one_name_without_a_key_give_both_answers_and_a_doubt()
    {
        var pool = Pooler.Run([Device(1, 14), Device(2, 14.01), Device(3, 13.99)], []);
        Assert.Contains(pool.Doubts, d => d.Contains("whether it is one instrument", StringComparison.Ordinal));
        var apart = Of(pool, PoolFigure.EnergyPerCharge).Answer!;
        var one = pool.AsOneInstrument.First(f => f.Figure == PoolFigure.EnergyPerCharge).Answer!;
        Assert.True(one.Shares.Single(s => s.What == "meter-gain (meter)").SharedByAll);
        Assert.False(apart.Shares.Single(s => s.What == "meter-gain (meter)").SharedByAll);

        Assert.Empty(Pooler.Run([Device(1, 14, "a"), Device(2, 14.01, "a"), Device(3, 13.99, "a")], []).AsOneInstrument);
    }

    // The scatter of the reference is one error where its logs are the same, and none of the names says so.
    [Fact]
    public void A_reference_run_that_all_share_is_one_error_by_the_hashes_of_its_logs()
    {
        double[] energies = [14, 14.5, 13.5];
        PooledAnswer Answer(string? reference) =>
            Of(Pooler.Run([.. energies.Select((e, i) => Device(i, e, "one", reference: reference))], []), PoolFigure.OverheadRatio).Answer!;
        Assert.Contains(Answer("shared cable").Shares, s => s is { What: "repeatability (method)", SharedByAll: true });
        Assert.DoesNotContain(Answer(null).Shares, s => s.SharedByAll && s.What == "repeatability (method)");
    }

    [Fact]
    public void The_same_audit_twice_counts_once_and_other_states_of_charge_are_left_out()
    {
        var other = Device(5, 14);
        var design = other.Design;
        other = other with
        {
            Design = design with
            {
                Methods = [.. design.Methods.Select(m => m with { Runs = [.. m.Runs.Select(r => r with { EndChargePercent = 80 })] })],
            },
        };
        var pool = Pooler.Run([Device(1, 13), Device(1, 13) with { File = "copy.json" }, Device(2, 14), Device(3, 15), other], []);
        Assert.Equal(3, Of(pool, PoolFigure.OverheadRatio).Devices.Count);
        Assert.Contains(pool.Apart, a => a.StartsWith("copy.json: the same audit as d1", StringComparison.Ordinal));
        Assert.Contains(pool.Apart, a => a.Contains("end at 80 %, and those of most others at 100 %", StringComparison.Ordinal));
    }

    [Fact]
    public void A_point_that_no_audit_has_is_refused()
    {
        var e = Assert.Throws<InputException>(() => Pooler.Run([Device(1, 13)], [], MeasuringPoint.Usb));
        Assert.Contains("at the adapter's output", e.Message, StringComparison.Ordinal);
    }

    // Ratios are device × charger without any scatter between cells, so each pair's ratio is exact whatever cells are empty.
    [Fact]
    public void A_table_with_empty_cells_ranks_chargers_by_devices_compared_with_themselves()
    {
        double[] devices = [1.30, 1.40, 1.50, 1.60];
        (string Name, double Factor)[] chargers = [("near", 1), ("middle", 1.05), ("far", 1.10)];
        var audits = devices.Select((d, i) => PoolCases.Audit(
            InvariantText.Of($"d{i}"), Cable, chargers.Where((_, c) => (i, c) is not (0, 2) and not (3, 0))
                .ToDictionary(c => c.Name, c => new[] { 0.995, 1, 1.005 }.Select(x => 10 * d * c.Factor * x).ToArray()), instrument: "one"))
                .ToList();
        var ranking = Pooler.Run(audits, []).Ranking!;
        Assert.Equal(["near", "middle", "far"], ranking.Chargers.Select(c => c.Name));
        Assert.Equal(1.10, ranking.Pairs.Single(p => p is { First: "near", Second: "far" }).Ratio.Value, 2e-4);
        Assert.True(ranking.Chargers[0].Best > 0.99 && ranking.Chargers.All(c => c.FirstThree > 0.999));
        Assert.Equal(10 - 3 - 4 + 1, ranking.DegreesOfFreedom);
        Assert.Contains(Pooler.Run(audits, []).Doubts,
            d => d.StartsWith("Not every device was tried on every charger", StringComparison.Ordinal));
    }

    [Fact]
    public void Chargers_that_differ_by_less_than_the_runs_scatter_cannot_be_told_apart()
    {
        double[] shifts = [1.01, 0.99, 1.005, 0.995];
        var audits = shifts.Select((s, i) => PoolCases.Audit(
            InvariantText.Of($"d{i}"), Cable,
                new Dictionary<string, double[]> { ["a"] = [13.8, 14, 14.2], ["b"] = [13.8 * s, 14 * s, 14.2 * s] }, instrument: "one"))
                .ToList();
        var pair = Assert.Single(Pooler.Run(audits, []).Ranking!.Pairs);
        Assert.False(pair.ToldApart);
        Assert.True(pair.Ratio.Low < 1 && pair.Ratio.High > 1);
    }
}
