using ChargeAudit.Metrology.Repeats;
using ChargeAudit.Metrology.Uncertainty;
using MathNet.Numerics.Random;

namespace ChargeAudit.Tests.Metrology.Coverage;

/// <summary>Two methods run on some days, some times on each.</summary>
/// <param name="Days">Days. [1]</param>
/// <param name="Runs">Runs of each method on each day; two at least where there is one day. [1]</param>
/// <param name="BetweenByWithin">How much days differ, by how much runs of a day do. [1]</param>
public sealed record BlockCase(int Days, int Runs, double BetweenByWithin);

/// <summary>What came of it, for the energy of one method and for the ratio of both.</summary>
/// <param name="Case">What was simulated.</param>
/// <param name="EnergyHeld">Share of the 95 % intervals of an energy that held the truth. [1]</param>
/// <param name="EnergyByIdeal">Their mean width by that of the same standard uncertainty with the one factor that makes 95 % hold.
/// [1]</param>
/// <param name="RatioHeld">The same for the ratio. [1]</param>
/// <param name="RatioByIdeal">The same for the ratio. [1]</param>
/// <param name="HeldWithoutDays">Share of the intervals of an energy that would hold if each run counted as made by itself. [1]</param>
public sealed record BlockCoverageResult(
    BlockCase Case, double EnergyHeld, double EnergyByIdeal, double RatioHeld, double RatioByIdeal, double HeldWithoutDays);

/// <summary>
/// Simulates runs on days and counts how often intervals hold the truth: with two days or more the mean over very many days, with one that
/// day's own mean. Scatter is normal; the meter is exact, so that only the scatter is tried.
/// </summary>
public static class BlockCoverage
{
    private const double Within = 0.006;

    /// <summary>Runs one case.</summary>
    /// <param name="what">What to simulate.</param>
    /// <param name="studies">How many studies. [1]</param>
    /// <param name="seed">Seed of the random numbers.</param>
    public static BlockCoverageResult Run(BlockCase what, int studies, int seed)
    {
        var random = new Xoshiro256StarStar(seed, threadSafe: false);
        var energy = new Count(studies);
        var ratio = new Count(studies);
        int plain = 0;
        for (int i = 0; i < studies; i++)
        {
            var cable = Method(what, random, "cable", 13);
            var pad = Method(what, random, "pad", 20);
            energy.Add(cable.Found.Mean, cable.TrueWh);
            ratio.Add(RatioOfMeans.Compare(pad.Found, cable.Found).Ratio, pad.TrueWh / cable.TrueWh);
            plain += Holds(cable.WithoutDays.Mean, cable.TrueWh) ? 1 : 0;
        }

        return new BlockCoverageResult(what, energy.Held, energy.ByIdeal, ratio.Held, ratio.ByIdeal, (double)plain / studies);
    }

    private static (MeanOfRuns Found, MeanOfRuns WithoutDays, double TrueWh) Method(BlockCase what, Xoshiro256StarStar random, string name,
        double meanWh)
    {
        var runs = new List<Measured>();
        var blocks = new List<string>();
        double trueWh = meanWh;
        for (int d = 0; d < what.Days; d++)
        {
            double day = meanWh * (1 + (what.BetweenByWithin * Within * Normal(random)));
            trueWh = what.Days == 1 ? day : meanWh;
            for (int r = 0; r < what.Runs; r++)
            {
                double run = day + (meanWh * Within * Normal(random));
                runs.Add(Measured.Exact(run, "Wh"));
                blocks.Add("day " + d);
            }
        }

        var source = InfluenceSource.ScatterOf(name, "wall");
        return (Repeatability.Combine(runs, source, blocks), Repeatability.Combine(runs, source), trueWh);
    }

    private static bool Holds(Measured found, double truth) => found.Interval() is { } i && truth >= i.Low && truth <= i.High;

    private static double Normal(Xoshiro256StarStar random) =>
        Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());

    private sealed class Count(int studies)
    {
        private readonly List<double> _normalised = new(studies);
        private double _width;
        private double _u;
        private int _held;

        public double Held => (double)_held / _normalised.Count;

        public double ByIdeal
        {
            get
            {
                double[] sorted = [.. _normalised.Order()];
                return _width / (2 * sorted[(int)Math.Ceiling(0.95 * sorted.Length) - 1] * _u);
            }
        }

        public void Add(Measured found, double truth)
        {
            var interval = found.Interval()!.Value;
            double u = found.StandardUncertainty!.Value;
            _held += Holds(found, truth) ? 1 : 0;
            _normalised.Add(Math.Abs(found.Value - truth) / u);
            _width += interval.High - interval.Low;
            _u += u;
        }
    }
}
