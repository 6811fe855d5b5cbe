using ChargeAudit.Metrology.Statistics;
using ChargeAudit.Pooling.RandomEffects;
using ChargeAudit.Pooling.Results;
using MathNet.Numerics.Distributions;
using MathNet.Numerics.LinearAlgebra;
using MathNet.Numerics.Random;

namespace ChargeAudit.Pooling;

/// <summary>
/// Ranks chargers from a crossed table of devices and chargers, which may have empty cells: chargers as fixed effects, devices and the
/// interaction of the two as random ones. Each device is compared with itself, so a charger does not gain by having been tried with thrifty
/// devices.
/// </summary>
internal static class ChargerRanker
{
    private const double Level = 0.05;
    private const int Draws = 20_000;
    private const int Seed = 20_270_103;

    /// <summary>The ranking, or why there is none.</summary>
    public static (ChargerRanking? Ranking, string? WhyNot) Of(IReadOnlyList<PoolRow> rows)
    {
        var known = rows.Where(r => r.Figures[PoolFigure.OverheadRatio].Value is { UnknownBecause: null }).ToList();
        string[] chargers = [.. known.Select(r => r.Charger).Distinct()], devices = [.. known.Select(r => r.Device).Distinct()];
        int cells = known.Select(r => (r.Device, r.Charger)).Distinct().Count(), dof = cells - chargers.Length - devices.Length + 1;
        string? whyNot = chargers.Length < 2 ? "there is only one charger"
            : devices.Length < FigurePooler.LeastDevices ? $"a ranking needs at least {FigurePooler.LeastDevices} devices"
            : !Connected(known) ? "the chargers share no devices, not even by way of others, so nothing compares them"
            : dof < 1 ? "each charger or device was tried so seldom that no degrees of freedom are left to judge the differences" : null;
        return whyNot is null ? (Rank(known, chargers, devices, dof), null) : (null, whyNot);
    }

    private static ChargerRanking Rank(List<PoolRow> rows, string[] chargers, string[] devices, int dof)
    {
        var figures = ModeratedErrors.Of([.. rows.Select(r => r.Figures[PoolFigure.OverheadRatio].Value!)]);
        double[] y = [.. figures.Select(f => f.Value)];
        int[] device = [.. rows.Select(r => Array.IndexOf(devices, r.Device))],
            charger = [.. rows.Select(r => Array.IndexOf(chargers, r.Charger))];
        int[] cell = [.. rows.Select((_, i) => (device[i] * chargers.Length) + charger[i])];
        bool repeated = cell.Distinct().Count() < cell.Length;
        double[][] design = [.. chargers.Select((_, c) => charger.Select(x => x == c ? 1.0 : 0).ToArray())];
        var errors = JointErrors.Of(figures);
        var model =
            new EffectsModel(y, design, errors.Covariance, repeated ? [device, cell, [.. Enumerable.Range(0, y.Length)]] : [device, cell]);
        var variances = VarianceComponents.Reml(model);
        var solution = model.At(variances);
        var covariance = solution.Covariance * Math.Max(1, solution.Q / model.DegreesOfFreedom);
        double[] beta = [.. solution.Coefficients];
        int[] order = [.. Enumerable.Range(0, chargers.Length).OrderBy(c => beta[c])];
        var (best, firstThree) = Chances(beta, covariance, dof);
        double shared = errors.Common.Sum(c => c.Effects.Average() * c.Effects.Average()),
            k = StudentDistribution.TwoSidedFactor(1 - Level, dof);
        PooledValue Ratio(double value, double variance) =>
            new(Math.Exp(value), Math.Exp(value - (k * Math.Sqrt(variance))), Math.Exp(value + (k * Math.Sqrt(variance))));
        return new ChargerRanking(
            [.. order.Select(c => new RankedCharger(chargers[c], Ratio(beta[c], covariance[c, c] + shared), best[c], firstThree[c]))],
            [.. devices.Select((d, i) =>
                new DeviceEffect(d, Math.Exp(variances[0] * device.Select((x, row) => x == i ? solution.Residual[row] : 0).Sum())))],
            [.. rows.GroupBy(r => (r.Device, r.Charger)).Select(Cell)],
            Pairs(chargers, order, beta, covariance, dof, Ratio),
            Math.Sqrt(variances[0]),
            Math.Sqrt(variances[1]),
            repeated ? Math.Sqrt(variances[2]) : null,
            dof);
    }

    private static TableCell Cell(IGrouping<(string Device, string Charger), PoolRow> rows)
    {
        var mean = FigurePooler.MeanOf([.. rows.Select(r => r.Figures[PoolFigure.OverheadRatio].Value!)]);
        var interval = mean.Interval();
        return new TableCell(rows.Key.Device, rows.Key.Charger, new PooledValue(
            Math.Exp(mean.Value), interval is { } a ? Math.Exp(a.Low) : null, interval is { } b ? Math.Exp(b.High) : null), rows.Count());
    }

    private static List<ChargerPair> Pairs(string[] chargers, int[] order, double[] beta, Matrix<double> covariance, int dof,
        Func<double, double, PooledValue> ratio)
    {
        var pairs = (from a in Enumerable.Range(0, order.Length)
                     from b in Enumerable.Range(a + 1, order.Length - a - 1)
                     let first = order[a]
                     let second = order[b]
                     let variance = covariance[first, first] + covariance[second, second] - (2 * covariance[first, second])
                     select (First: first, Second: second, Difference: beta[second] - beta[first], Variance: variance)).ToList();
        double[] adjusted =
            HolmAdjustment.Adjust([.. pairs.Select(p => StudentDistribution.BothTails(p.Difference / Math.Sqrt(p.Variance), dof))]);
        return [.. pairs.Select((p, i) =>
            new ChargerPair(chargers[p.First], chargers[p.Second], ratio(p.Difference, p.Variance), adjusted[i], adjusted[i] < Level))];
    }

    // How often each comes first when the effects are drawn from what the data leave open: a multivariate t about the estimates.
    private static (double[] Best, double[] FirstThree) Chances(double[] beta, Matrix<double> covariance, int dof)
    {
        var random = new MersenneTwister(Seed, threadSafe: false);
        var root = covariance.Cholesky().Factor;
        double[] best = new double[beta.Length], firstThree = new double[beta.Length];
        for (int draw = 0; draw < Draws; draw++)
        {
            var z = Vector<double>.Build.Dense(beta.Length, _ => Normal.Sample(random, 0, 1));
            var moved = root * z / Math.Sqrt(ChiSquared.Sample(random, dof) / dof);
            int[] order = [.. Enumerable.Range(0, beta.Length).OrderBy(c => beta[c] + moved[c])];
            best[order[0]] += 1.0 / Draws;
            foreach (int c in order.Take(3))
            {
                firstThree[c] += 1.0 / Draws;
            }
        }

        return (best, firstThree);
    }

    private static bool Connected(List<PoolRow> rows)
    {
        var reached = new HashSet<string> { rows[0].Charger };
        for (int before = 0; before < reached.Count;)
        {
            before = reached.Count;
            var devices = rows.Where(r => reached.Contains(r.Charger)).Select(r => r.Device).ToHashSet();
            reached.UnionWith(rows.Where(r => devices.Contains(r.Device)).Select(r => r.Charger));
        }

        return rows.All(r => reached.Contains(r.Charger));
    }
}
