using ChargeAudit.Measuring.Segmentation;
using ChargeAudit.Tests.Measuring.Segmentation.Truth;

namespace ChargeAudit.Tests.Measuring.Segmentation;

public sealed class ChangePointTests
{
    [Fact]
    public void Pruning_gives_the_optimum_that_trying_all_gives()
    {
        for (ulong seed = 0; seed < 30; seed++)
        {
            var random = new TruthRandom(seed);
            var power = new double[90];
            double level = 5;
            for (int i = 0; i < power.Length; i++)
            {
                level = random.Chance(0.06) ? random.Between(0, 10) : level;
                power[i] = level + (0.2 * random.Gauss());
            }

            var cost = new SegmentCost(power, 1e-4, 1);
            Assert.Equal(Optimum(cost, 20), Total(cost, ChangePoints.Find(cost, 20), 20), 6);
        }
    }

    [Fact]
    public void A_step_and_a_change_of_scatter_are_found_where_they_are()
    {
        var random = new TruthRandom(5);
        var power = Enumerable.Range(0, 600).Select(i => (i < 200 ? 1.0 : 2.0) + ((i < 400 ? 0.01 : 0.3) * random.Gauss())).ToArray();
        var starts = ChangePoints.Find(new SegmentCost(power, 1e-6, 1), 4 * Math.Log(600));
        Assert.Equal(3, starts.Count);
        Assert.Equal(200, starts[1]);
        Assert.InRange(starts[2], 395, 405);
    }

    [Fact]
    public void Noise_alone_has_no_change_point()
    {
        for (ulong seed = 0; seed < 20; seed++)
        {
            var random = new TruthRandom(900 + seed);
            var power = Enumerable.Range(0, 500).Select(_ => random.Gauss()).ToArray();
            Assert.Single(ChangePoints.Find(new SegmentCost(power, 0.25, 1), 4 * Math.Log(500)));
        }
    }

    [Fact]
    public void A_straight_line_far_from_zero_keeps_its_residual()
    {
        var power = Enumerable.Range(0, 5000).Select(i => 1000 + (0.01 * i) + (i % 2 == 0 ? 1e-3 : -1e-3)).ToArray();
        var fit = new SegmentCost(power, 0, 1).Fit(1000, 4000);
        Assert.Equal(0.01, fit.SlopeW, 8);
        Assert.Equal(1e-6, fit.VarianceW2, 9);
    }

    // Numbers of few digits bring equal costs, of which the first start counts.
    [Theory]
    [InlineData(0, 1e-4)]
    [InlineData(1, 1e-4)]
    [InlineData(1, 0)]
    [InlineData(12, 1e-9)]
    public void Bounds_on_costs_give_the_stretches_that_the_costs_of_all_starts_give(int digits, double floorW2)
    {
        for (ulong seed = 0; seed < 20; seed++)
        {
            var random = new TruthRandom(seed);
            var power = new double[211];
            for (int i = 0; i < power.Length; i++)
            {
                double level = i < 40 ? 0.05 : i < 120 ? 7 : 7 * Math.Exp(-0.05 * (i - 120));
                power[i] = Math.Round(level + ((i % 60 < 50 ? 0.1 : 0) * random.Gauss()), digits);
            }

            foreach (double weight in (double[])[1, 0.3])
            {
                var cost = new SegmentCost(power, floorW2, weight);
                Assert.Equal(ByAllStarts(cost, 4 * Math.Log(211)), ChangePoints.Find(cost, 4 * Math.Log(211)));
            }
        }
    }

    private static List<int> ByAllStarts(SegmentCost cost, double penalty)
    {
        var best = Enumerable.Repeat(double.PositiveInfinity, cost.Count + 1).ToArray();
        int[] previous = new int[cost.Count + 1];
        int[] lastAt = [.. Enumerable.Repeat(int.MaxValue, cost.Count + 1)];
        best[0] = -penalty;
        for (int end = ChangePoints.LeastCells; end <= cost.Count; end++)
        {
            int[] open = [.. Enumerable.Range(0, end - ChangePoints.LeastCells + 1)
                .Where(s => (s == 0 || s >= ChangePoints.LeastCells) && end < lastAt[s])];
            double[] totals = [.. open.Select(s => best[s] + cost.Of(s, end))];
            for (int i = 0; i < open.Length; i++)
            {
                (best[end], previous[end]) = totals[i] + penalty < best[end] ? (totals[i] + penalty, open[i]) : (best[end], previous[end]);
            }

            for (int i = 0; i < open.Length; i++)
            {
                lastAt[open[i]] = totals[i] > best[end] ? Math.Min(lastAt[open[i]], end + ChangePoints.LeastCells) : lastAt[open[i]];
            }
        }

        var starts = new List<int>();
        for (int end = cost.Count; end > 0; end = previous[end])
        {
            starts.Insert(0, previous[end]);
        }

        return starts;
    }

    private static double Total(SegmentCost cost, List<int> starts, double penalty)
    {
        double sum = 0;
        for (int i = 0; i < starts.Count; i++)
        {
            sum += cost.Of(starts[i], i + 1 < starts.Count ? starts[i + 1] : cost.Count) + (i > 0 ? penalty : 0);
        }

        return sum;
    }

    private static double Optimum(SegmentCost cost, double penalty)
    {
        var best = Enumerable.Repeat(double.PositiveInfinity, cost.Count + 1).ToArray();
        best[0] = -penalty;
        for (int end = ChangePoints.LeastCells; end <= cost.Count; end++)
        {
            for (int start = 0; start <= end - ChangePoints.LeastCells; start++)
            {
                best[end] = Math.Min(best[end], best[start] + cost.Of(start, end) + penalty);
            }
        }

        return best[^1];
    }
}
