using ChargeAudit.Metrology.Statistics;
using MathNet.Numerics.Distributions;
using MathNet.Numerics.Random;

namespace ChargeAudit.Checking.Drift;

/// <summary>
/// Limits of a change-point chart, one for each measurement, such that with no change each check raises an alarm with the same probability
/// if none came before: the run length to a false alarm is geometric from the first check on. They depend on the runs behind each
/// measurement, so they are worked out for the history at hand: seeded paths that have raised no alarm so far, the last measurement of each
/// integrated and not drawn. <i>Source:</i> D. M. Hawkins, P. Qiu and C. W. Kang, Journal of Quality Technology 35 (2003) 355–366 (limits
/// of constant hazard).
/// </summary>
public static class ChangePointLimits
{
    private const int Paths = 30_000;
    private const ulong Seed = 20_261_126;

    // The limits settle; after this many measurements the mean of the last few is taken.
    private const int Simulated = 60;
    private const int Settled = 10;

    // The library draws a chi-squared number from as many normal ones; the same distribution as a gamma takes one draw.
    private const double ManyDof = 100;

    /// <summary>The limits.</summary>
    /// <param name="measurements">Runs of each measurement, and degrees of freedom of their scatter, each above zero. [1]</param>
    /// <param name="hazard">Probability of a false alarm at each check, between 0 and 0.5. [1]</param>
    /// <returns>For each measurement the limit of the score after it, in standard deviations; the first, which nothing is compared with,
    /// has infinity. [1]</returns>
    public static IReadOnlyList<double> Of(IReadOnlyList<(double Runs, double Dof)> measurements, double hazard)
    {
        ArgumentNullException.ThrowIfNull(measurements);
        var limits = new double[measurements.Count];
        if (limits.Length == 0)
        {
            return limits;
        }

        limits[0] = double.PositiveInfinity;
        var paths = new QuietPaths(measurements[0], new Xoshiro256StarStar(unchecked((int)Seed), threadSafe: false));
        for (int i = 1; i < Math.Min(limits.Length, Simulated); i++)
        {
            limits[i] = paths.Next(measurements[i], hazard, i == 1 ? -Normal.InvCDF(0, 1, hazard) : limits[i - 1]);
        }

        for (int i = Simulated; i < limits.Length; i++)
        {
            limits[i] = limits.Take(Simulated).TakeLast(Settled).Average();
        }

        return limits;
    }

    private sealed class QuietPaths
    {
        private readonly Xoshiro256StarStar _random;
        private readonly List<double> _runs = [];
        private readonly List<double[]> _sums = [];
        private readonly double[] _squares = new double[Paths];
        private readonly double[] _weights = new double[Paths];
        private double _dof;

        public QuietPaths((double Runs, double Dof) first, Xoshiro256StarStar random)
        {
            _random = random;
            Array.Fill(_weights, 1);
            AddScatter(first.Dof);
            Add(first.Runs, _ => (Normal.InvCDF(0, 1, Uniform()) / Math.Sqrt(first.Runs), 1));
        }

        public double Next((double Runs, double Dof) measurement, double hazard, double guess)
        {
            AddScatter(measurement.Dof);
            double[] bounds = new double[Paths];
            double Excess(double limit)
            {
                Bounds(measurement.Runs, limit, bounds);
                double sum = 0, all = 0;
                for (int p = 0; p < Paths; p++)
                {
                    sum += _weights[p] * Normal.CDF(0, 1, -bounds[p]);
                    all += _weights[p];
                }

                return Math.Log(Math.Max(sum / all, 1e-300) / hazard);
            }

            // Two measurements leave one change point, whose limit is exact.
            double found = _runs.Count == 1 ? guess : Root(Excess, guess);
            Bounds(measurement.Runs, found, bounds);
            Add(measurement.Runs, p =>
            {
                double below = Normal.CDF(0, 1, bounds[p]);
                return (Normal.InvCDF(0, 1, Math.Max(below * Uniform(), 1e-300)) / Math.Sqrt(measurement.Runs), below);
            });
            return found;
        }

        // The chance of an alarm falls with the limit, nearly straight on its logarithm.
        private static double Root(Func<double, double> excess, double guess)
        {
            double a = guess, fa = excess(a), b = a + Math.Clamp(fa / 3, -0.5, 0.5) + 1e-3, fb = excess(b);
            for (int i = 0; i < 12 && Math.Abs(fb) > 1e-3 && fa != fb; i++)
            {
                (a, fa, b) = (b, fb, b - Math.Clamp(fb * (b - a) / (fb - fa), -1, 1));
                fb = excess(b);
            }

            return b;
        }

        private double Uniform() => Math.Max(_random.NextDouble(), 1e-300);

        private void AddScatter(double dof)
        {
            _dof += dof;
            for (int p = 0; p < Paths; p++)
            {
                _squares[p] += dof > ManyDof ? Gamma.Sample(_random, 0.5 * dof, 0.5) : ChiSquared.Sample(_random, dof);
            }
        }

        private void Add(double runs, Func<int, (double Value, double Survives)> draw)
        {
            double[] sum = new double[Paths];
            for (int p = 0; p < Paths; p++)
            {
                var (value, survives) = draw(p);
                sum[p] = (_sums.Count == 0 ? 0 : _sums[^1][p]) + (runs * value);
                _weights[p] *= survives;
            }

            _sums.Add(sum);
            _runs.Add(runs + (_runs.Count == 0 ? 0 : _runs[^1]));
        }

        // The next measurement, in its own standard deviations, above which some change point raises an alarm.
        private void Bounds(double runs, double limit, double[] bounds)
        {
            double t = StudentDistribution.Quantile(Math.Min(Normal.CDF(0, 1, limit), 1 - 1e-15), _dof), all = _runs[^1] + runs;
            double[] sums = _sums[^1];
            Array.Fill(bounds, double.PositiveInfinity);
            for (int k = 0; k < _runs.Count; k++)
            {
                double before = _runs[k], after = all - before, factor = after / before;
                double reach = t * Math.Sqrt((1 / before) + (1 / after)) * after;
                double[] head = _sums[k];
                for (int p = 0; p < bounds.Length; p++)
                {
                    double at = (factor * head[p]) - (sums[p] - head[p]) + (reach * Math.Sqrt(_squares[p] / _dof));
                    bounds[p] = Math.Min(bounds[p], at);
                }
            }

            for (int p = 0; p < bounds.Length; p++)
            {
                bounds[p] /= Math.Sqrt(runs);
            }
        }
    }
}
