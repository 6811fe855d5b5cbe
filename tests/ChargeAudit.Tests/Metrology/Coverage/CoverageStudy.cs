using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Repeats;
using ChargeAudit.Metrology.Uncertainty;
using MathNet.Numerics.Random;

namespace ChargeAudit.Tests.Metrology.Coverage;

/// <summary>How runs of one method scatter in a simulated study.</summary>
public enum ScatterModel
{
    /// <summary>Normal.</summary>
    Normal,

    /// <summary>Skewed: now and then a run takes clearly more (gamma, shape 4).</summary>
    Skewed,

    /// <summary>Peaked, with long tails (Laplace).</summary>
    LongTailed,
}

/// <summary>What is simulated.</summary>
/// <param name="Runs">Runs of each method. [1]</param>
/// <param name="SameMeter">Whether one meter measured both methods.</param>
/// <param name="Scatter">How runs scatter.</param>
/// <param name="ScatterRatio">Relative scatter of the pad's runs by that of the cable's; null: drawn anew for each study, between 0.6 and
/// 2. [1]</param>
public sealed record CoverageCase(int Runs, bool SameMeter, ScatterModel Scatter, double? ScatterRatio = null);

/// <summary>What came of it.</summary>
/// <param name="Case">What was simulated.</param>
/// <param name="Studies">How many studies. [1]</param>
/// <param name="Held">Share of the 95 % intervals that held the true ratio. [1]</param>
/// <param name="MeanWidth">Mean width of the intervals. [1]</param>
/// <param name="IdealWidth">
/// Mean width of the best interval for somebody who must estimate the scatter from the same runs: the standard uncertainty found times the
/// one factor with which exactly 95 % hold, known only afterwards. [1]
/// </param>
/// <param name="OracleWidth">Mean width of the interval of somebody who is told the true scatter of the runs. [1]</param>
public sealed record CoverageResult(CoverageCase Case, int Studies, double Held, double MeanWidth, double IdealWidth, double OracleWidth);

/// <summary>
/// Simulates whole studies of known truth (energies, meters' errors, scatter of the runs) and counts how often the 95 % interval of the
/// overhead ratio holds it. Meters err anywhere within their data sheet; charges follow a plateau and a decay of random length and height.
/// </summary>
public static class CoverageStudy
{
    private const int Points = 60;

    private static readonly Dictionary<LogQuantity, MeterAccuracy> Sheet = new()
    {
        [LogQuantity.Voltage] = Accuracy("0.1 % + 5 mV", LogQuantity.Voltage),
        [LogQuantity.Current] = Accuracy("0.4 % + 4 mA", LogQuantity.Current),
    };

    /// <summary>Runs one case.</summary>
    /// <param name="what">What to simulate.</param>
    /// <param name="studies">How many studies. [1]</param>
    /// <param name="seed">Seed of the random numbers.</param>
    public static CoverageResult Run(CoverageCase what, int studies, int seed)
    {
        var random = new Xoshiro256StarStar(seed, threadSafe: false);
        var normalised = new double[studies];
        var standardised = new double[studies];
        double width = 0, u = 0, sigma = 0;
        int held = 0;
        for (int i = 0; i < studies; i++)
        {
            var (truth, comparison, trueSigma) = One(what, random);
            var interval = comparison.Ratio.Interval()!.Value;
            double error = Math.Abs(comparison.Ratio.Value - truth);
            double found = comparison.Ratio.StandardUncertainty!.Value;
            held += truth >= interval.Low && truth <= interval.High ? 1 : 0;
            width += (interval.High - interval.Low) / studies;
            u += found / studies;
            sigma += trueSigma / studies;
            normalised[i] = error / found;
            standardised[i] = error / trueSigma;
        }

        return new CoverageResult(what, studies, (double)held / studies, width, 2 * Quantile(normalised) * u, 2 * Quantile(standardised)
            * sigma);
    }

    private static (double Truth, RatioComparison Comparison, double TrueSigma) One(CoverageCase what, Xoshiro256StarStar random)
    {
        double cableWh = Between(random, 9, 17), trueRatio = Between(random, 1.2, 2);
        double cableScatter = Math.Exp(Between(random, Math.Log(0.002), Math.Log(0.012)));
        double padScatter = cableScatter * (what.ScatterRatio ?? Math.Exp(Between(random, Math.Log(0.6), Math.Log(2))));
        var bench = new MeterErrorDraw(random);
        var plug = what.SameMeter ? bench : new MeterErrorDraw(random);

        var cable = Runs(what, random, "cable", cableWh, cableScatter, 9, bench, "bench");
        var pad = Runs(what, random, "pad", cableWh * trueRatio, padScatter, 12, plug, what.SameMeter ? "bench" : "plug");
        double truth = what.Runs == 1 ? pad.TrueWh[0] / cable.TrueWh[0] : trueRatio;

        var comparison = RatioOfMeans.Compare(
            Repeatability.Combine(pad.Found, InfluenceSource.ScatterOf("pad", "usb")),
                Repeatability.Combine(cable.Found, InfluenceSource.ScatterOf("cable", "usb")));

        // The measurement's part is known to the evaluation; the scatter's true size replaces the estimated one.
        double measured = comparison.Ratio.Components.Where(c => double.IsInfinity(c.Source.DegreesOfFreedom))
            .Sum(c => c.SignedStandardUncertainty * c.SignedStandardUncertainty);
        double scatter = what.Runs == 1
            ? 0
            : trueRatio * trueRatio * ((cableScatter * cableScatter) + (padScatter * padScatter)) / what.Runs;
        return (truth, comparison, Math.Sqrt(measured + scatter));
    }

    private static (double[] TrueWh, List<Measured> Found) Runs(
        CoverageCase what, Xoshiro256StarStar random, string method, double meanWh, double scatter, double volts, MeterErrorDraw meter,
            string meterName)
    {
        var trueWh = new double[what.Runs];
        var found = new List<Measured>();
        double plateau = Between(random, 0.2, 0.7), decay = Between(random, 0.08, 0.3), hours = Between(random, 1.2, 3.5);
        for (int r = 0; r < what.Runs; r++)
        {
            trueWh[r] = meanWh * (1 + (scatter * Scatter(what.Scatter, random)));

            // Shape of the current over the charge, scaled to the run's energy; the meter reads it with its errors.
            double shape = 0;
            for (int i = 0; i < Points; i++)
            {
                shape += Current((i + 0.5) / Points, plateau, decay) / Points;
            }

            double amperes = trueWh[r] / (volts * hours * shape), energyJ = 0, chargeC = 0, dt = hours * 3600 / Points;
            double volt = (volts * (1 + meter.VoltageGain)) + meter.VoltageOffset;
            for (int i = 0; i < Points; i++)
            {
                double ampere = (amperes * Current((i + 0.5) / Points, plateau, decay) * (1 + meter.CurrentGain)) + meter.CurrentOffset;
                energyJ += volt * ampere * dt;
                chargeC += ampere * dt;
            }

            double noiseJ = 0.0006 * meanWh * 3600;
            energyJ += noiseJ * Normal(random);
            var sums = new EnergySensitivities
            {
                EnergyJ = energyJ,
                DurationS = hours * 3600,
                ChargeC = chargeC,
                VoltSeconds = volt * hours * 3600,
            };
            var errors = MeterError.ForEnergy(meterName, Sheet, sums, PowerBasis.VoltageTimesCurrent);
            found.Add(Measured.From(energyJ, "J", errors.Components, errors.UnknownBecause)
                .Plus(new UncertaintyComponent(new InfluenceSource($"log:{method}-{r + 1}/noise"), noiseJ)).In("Wh", 1 / 3600.0));
        }

        return (trueWh, found);
    }

    private static double Current(double share, double plateau, double decay) => share < plateau ? 1 : Math.Exp(-(share - plateau) / decay);

    private static double Scatter(ScatterModel model, Xoshiro256StarStar random) => model switch
    {
        // Sum of four exponentials: mean 4, standard deviation 2.
        ScatterModel.Skewed => 0.5 * (Exponential(random) + Exponential(random) + Exponential(random) + Exponential(random) - 4),
        ScatterModel.LongTailed => (Exponential(random) - Exponential(random)) / Math.Sqrt(2),
        _ => Normal(random),
    };

    private static double Quantile(double[] values)
    {
        Array.Sort(values);
        return values[(int)Math.Ceiling(0.95 * values.Length) - 1];
    }

    private static double Between(Xoshiro256StarStar random, double low, double high) => low + ((high - low) * random.NextDouble());

    private static double Normal(Xoshiro256StarStar random) =>
        Math.Sqrt(2 * Exponential(random)) * Math.Cos(2 * Math.PI * random.NextDouble());

    private static double Exponential(Xoshiro256StarStar random) => -Math.Log(1 - random.NextDouble());

    private static MeterAccuracy Accuracy(string text, LogQuantity quantity) =>
        MeterAccuracy.TryParse(text, quantity, out var accuracy, out string? error) ? accuracy : throw new ArgumentException(error);

    /// <summary>One meter's own errors, drawn anywhere within its data sheet.</summary>
    private sealed class MeterErrorDraw(Xoshiro256StarStar random)
    {
        internal double VoltageGain { get; } = Between(random, -0.001, 0.001);

        internal double VoltageOffset { get; } = Between(random, -0.005, 0.005);

        internal double CurrentGain { get; } = Between(random, -0.004, 0.004);

        internal double CurrentOffset { get; } = Between(random, -0.004, 0.004);
    }
}
