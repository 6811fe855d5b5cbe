using ChargeAudit.Logs;
using ChargeAudit.Measuring.Integration;
using ChargeAudit.Metrology.Uncertainty;
using static ChargeAudit.Tests.Measuring.Integration.SampleSeries;

namespace ChargeAudit.Tests.Measuring.Integration;

/// <summary>Over a gap the counter or the bridge is taken by standard uncertainty, and both are kept.</summary>
public sealed class GapChoiceTests
{
    // 10 W, then a gap over which 4 W flow, then 10 W again; the counter beside it in steps of the given size.
    private static LogSummary Log(double gapS, double stepJ)
    {
        var rows = new List<Sample>();
        double energyJ = 1000;
        for (int i = 0; i <= 200; i++)
        {
            double timeS = i <= 100 ? i : i + gapS - 1;
            rows.Add(At(timeS, 10, i + 2) with { EnergyCounterJ = CounterSeries.Cut(energyJ, stepJ) });
            energyJ += i == 100 ? 4 * gapS : 10;
        }

        return CounterSeries.Finished(rows, Rules());
    }

    [Fact]
    public void A_counter_with_digits_finer_than_the_advance_is_used()
    {
        var gap = Assert.Single(Log(1801, 3.6).Gaps.Longest);
        Assert.True(gap.FromCounter);
        Assert.Equal(4 * 1801, gap.EnergyJ, 3.6);
        Assert.Equal(10 * 1801, gap.BridgeJ);
    }

    [Fact]
    public void A_coarse_counter_is_not_used_because_it_stepped_once()
    {
        // 90 s: the bridge is known to 10 W × 90 s/√3 = 520 J, the counter to 3600 J/√6 = 1470 J.
        var gap = Assert.Single(Log(90, 3600).Gaps.Longest);
        Assert.False(gap.FromCounter);
        Assert.Equal(900, gap.EnergyJ);
        Assert.Equal(0, gap.CounterJ % 3600);
    }

    [Fact]
    public void Two_independent_ends_make_a_triangular_error()
    {
        var gap = new GapRecord(0, 1000, 2, 7200, true) { BridgeJ = 9000, CounterJ = 7200 };
        var (u, shape) = GapChoice.Uncertainty(gap, 3600, 10);
        Assert.Equal((3600 / Math.Sqrt(6), ErrorShape.Triangular), (u, shape));

        // The triangle on ±step holds 95 % within step · (1 − √0.05).
        var interval = Measured.From(0, "J", [new UncertaintyComponent(new InfluenceSource("gap", Shape: shape), u)]).Interval()!.Value;
        Assert.Equal(3600 * (1 - Math.Sqrt(0.05)), interval.High, 0.01);
        Assert.Equal(1.902, interval.CoverageFactor, 0.002);
    }

    [Fact]
    public void A_contradiction_is_covered_by_the_interval()
    {
        // At most 10 W for 100 s can have flowed; the counter says 5000 J in steps of 36 J.
        var gap = GapChoice.Of(new GapRecord(0, 100, 2, 1000, false) { BridgeJ = 1000 }, 5000, 36, 10);
        Assert.True(gap.Contradicts && gap.FromCounter);
        var (u, shape) = GapChoice.Uncertainty(gap, 36, 10);
        var interval = Measured.From(gap.EnergyJ, "J", [new UncertaintyComponent(new InfluenceSource("gap", Shape: shape), u)])
            .Interval()!.Value;
        Assert.InRange(interval.Low, 900, 1001);
    }

    [Fact]
    public void The_envelope_follows_the_choice()
    {
        var summary = Log(1801, 3.6);
        Assert.Equal(summary.EnergyJ.Value, summary.Envelope.EnergyBetweenJ(-10, 1e6), 1e-6);
        Assert.Equal(4, summary.Envelope.EnergyBetweenJ(512, 1536) / 1024, 0.01);
        Assert.Equal(1801, summary.Envelope.BridgedBetweenS(0, 1e6), 1e-6);
    }

    [Fact]
    public void A_gap_without_a_usable_counter_keeps_its_bridge()
    {
        // The counter is reset in the gap: what it shows behind is only a part.
        double[] counter = [500, 510, 40, 50];
        var rows = new[] { At(0, 10, 2), At(1, 10, 3), At(101, 10, 4), At(102, 10, 5) }.Zip(counter, (s, c) => s with
        {
            EnergyCounterJ = c,
        });
        var gap = Assert.Single(CounterSeries.Finished(rows, Rules() with { CounterStepJ = 1 }).Gaps.Longest);
        Assert.False(gap.FromCounter);
        Assert.True(double.IsNaN(gap.CounterJ));
    }
}
