using ChargeAudit.Checking.Drift;
using ChargeAudit.Metrology;
using ChargeAudit.Simulation.Randomness;

namespace ChargeAudit.Tests.Checking;

/// <summary>
/// Histories of checks whose true course is known: each check has some independent figures of three runs with normal scatter, which the
/// chart has to estimate from those runs.
/// </summary>
internal sealed class DriftSimulation
{
    private const int Runs = 3;

    private readonly int _figures;
    private readonly IReadOnlyList<double> _limits;

    public DriftSimulation(int figures, int longest)
    {
        _figures = figures;
        _limits = ChangePointLimits.Of([.. Enumerable.Repeat(((double)Runs, Runs - 1.0), longest + 1)], DriftPower.HazardOf(figures));
    }

    /// <summary>How soon a step is found in histories with no alarm before it.</summary>
    /// <param name="quiet">Checks between the first baseline and the step. [1]</param>
    /// <param name="step">The step, in standard uncertainties of one check. [1]</param>
    /// <param name="all">Whether all figures step, or only one.</param>
    /// <param name="histories">How many. [1]</param>
    /// <param name="seed">Seed.</param>
    public DriftDetection Detection(int quiet, double step, bool all, int histories, ulong seed)
    {
        var random = new RandomSource(seed).Named(InvariantText.Of($"{_figures}-{quiet}-{step}-{all}"));
        var waits = new List<int>();
        while (waits.Count < histories)
        {
            // Figures that do not move say nothing about the step.
            int wait = Enumerable.Range(0, all ? _figures : 1)
                .Select(_ => FirstAlarm(quiet, step, quiet + DriftPower.LongestWait, random) - quiet).Min();
            if (wait > 0)
            {
                waits.Add(wait);
            }
        }

        waits.Sort();
        double Within(int checks) => (double)waits.Count(w => w <= checks) / histories;
        int? Quantile(double share) => waits[(int)Math.Ceiling(share * histories) - 1] is var w && w <= DriftPower.LongestWait ? w : null;
        return new DriftDetection(quiet, step, all, Within(5), Within(10), Within(20), Quantile(0.25), Quantile(0.5), Quantile(0.75));
    }

    /// <summary>Share of whole checks that raise an alarm within some checks though nothing changes. [1]</summary>
    /// <param name="checks">How many checks. [1]</param>
    /// <param name="histories">How many histories. [1]</param>
    /// <param name="seed">Seed.</param>
    public double FalseAlarms(int checks, int histories, ulong seed)
    {
        var random = new RandomSource(seed).Named("quiet");
        return (double)Enumerable.Range(0, histories)
            .Count(_ => Enumerable.Range(0, _figures).Any(_ => FirstAlarm(checks, 0, checks, random) <= checks)) / histories;
    }

    // The check that raises the first alarm, counted from 1 after the baseline; one more than the longest where none does.
    private int FirstAlarm(int quiet, double step, int longest, RandomSource random)
    {
        var seen = new ChartMeasurement[longest + 1];
        for (int i = 0; i <= longest; i++)
        {
            seen[i] = Measurement(i > quiet ? step / Math.Sqrt(Runs) : 0, random);
            if (i > 0 && ChangePointChart.After(seen.AsSpan(0, i + 1)).Score > _limits[i])
            {
                return i;
            }
        }

        return longest + 1;
    }

    private static ChartMeasurement Measurement(double mean, RandomSource random)
    {
        double a = random.NextNormal(), b = random.NextNormal(), c = random.NextNormal(), middle = (a + b + c) / 3;
        double squares = ((a - middle) * (a - middle)) + ((b - middle) * (b - middle)) + ((c - middle) * (c - middle));
        return new ChartMeasurement(mean + middle, Runs, Math.Sqrt(squares / 2));
    }
}
