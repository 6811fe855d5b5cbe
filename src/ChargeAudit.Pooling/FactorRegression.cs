using ChargeAudit.Metrology.Statistics;
using ChargeAudit.Pooling.RandomEffects;
using ChargeAudit.Pooling.Results;

namespace ChargeAudit.Pooling;

/// <summary>
/// Regression of the overhead on one factor at a time, devices and what is left as random effects, with the variance of Hartung and Knapp.
/// Factors were not assigned at random: whatever goes along with one moves the overhead too. Fewer than ten devices a coefficient give no
/// regression. <i>Source</i> of the ten: J. P. T. Higgins and others (editors), Cochrane Handbook, 10.11.5.1 (from memory).
/// </summary>
internal static class FactorRegression
{
    /// <summary>Devices that each coefficient needs. [1]</summary>
    public const int DevicesPerCoefficient = 10;

    /// <summary>The effects, and why a factor has none.</summary>
    public static (IReadOnlyList<FactorEffect> Effects, IReadOnlyList<string> WhyNot) Of(IReadOnlyList<PoolRow> rows)
    {
        var effects = new List<FactorEffect>();
        var whyNot = new List<string>();
        foreach (string factor in rows.SelectMany(r => r.Audit.Factors.Keys).Distinct())
        {
            var told = rows.Where(r => r.Audit.Factors.ContainsKey(factor)
                && r.Figures[PoolFigure.OverheadRatio].Value is { UnknownBecause: null }).ToList();
            object[] values = [.. told.Select(r => r.Audit.Factors[factor])];
            bool numbers = values.All(v => v is double);
            string[] levels = numbers ? [] : [.. values.Select(v => v.ToString()!).Distinct().Order(StringComparer.Ordinal)];
            int coefficients = numbers ? 1 : levels.Length - 1, devices = told.Select(r => r.Device).Distinct().Count();
            if (values.Distinct().Count() < 2)
            {
                continue;
            }

            if (devices < DevicesPerCoefficient * coefficients)
            {
                whyNot.Add($"{factor}: it is known for {devices} devices; a regression needs at least "
                    + $"{DevicesPerCoefficient * coefficients}");
                continue;
            }

            double[][] columns = numbers ? [[.. values.Select(v => (double)v)]]
                : [.. levels.Skip(1).Select(l => values.Select(v => v.ToString() == l ? 1.0 : 0).ToArray())];
            effects.AddRange(Fit(factor, levels, told, columns));
        }

        return (effects, whyNot);
    }

    private static IEnumerable<FactorEffect> Fit(string factor, string[] levels, List<PoolRow> rows, double[][] columns)
    {
        var figures = ModeratedErrors.Of([.. rows.Select(r => r.Figures[PoolFigure.OverheadRatio].Value!)]);
        string[] chargers = [.. rows.Select(r => r.Charger).Distinct()], devices = [.. rows.Select(r => r.Device).Distinct()];
        double[][] design = [[.. rows.Select(_ => 1.0)], .. columns];
        int[] device = [.. rows.Select(r => Array.IndexOf(devices, r.Device))],
            charger = [.. rows.Select(r => Array.IndexOf(chargers, r.Charger))], row = [.. Enumerable.Range(0, rows.Count)];
        IReadOnlyList<int[]> groupings = devices.Length == rows.Count ? [row] : chargers.Length > 1
            ? [device, charger, row]
            : [device, row];
        var model = new EffectsModel([.. figures.Select(f => f.Value)], design, JointErrors.Of(figures).Covariance, groupings);
        var solution = model.At(VarianceComponents.Reml(model));

        // Several audits of one device are not further devices.
        double dof = devices.Length - design.Length, scale = solution.Q / model.DegreesOfFreedom,
            k = StudentDistribution.TwoSidedFactor(0.95, dof);
        for (int c = 0; c < columns.Length; c++)
        {
            double slope = solution.Coefficients[c + 1], half = k * Math.Sqrt(scale * solution.Covariance[c + 1, c + 1]);
            yield return new FactorEffect(
                factor,
                levels.Length == 0 ? null : levels[c + 1],
                levels.Length == 0 ? null : levels[0],
                new PooledValue(Math.Exp(slope), Math.Exp(slope - half), Math.Exp(slope + half)),
                dof,
                rows.Count);
        }
    }
}
