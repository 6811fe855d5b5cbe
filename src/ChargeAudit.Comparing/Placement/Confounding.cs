using ChargeAudit.Studies;

namespace ChargeAudit.Comparing.Placement;

/// <summary>Tells which factors changed together, so that what one of them does may be the other's doing.</summary>
internal static class Confounding
{
    /// <summary>Correlation from which two factors cannot be told apart. [1]</summary>
    private const double AsOne = 0.99;

    /// <summary>Correlation from which a factor's curve is partly another's. [1]</summary>
    private const double Partly = 0.5;

    /// <summary>The caution for one factor; null where no other factor changed along with it.</summary>
    /// <param name="factor">The factor.</param>
    /// <param name="runs">Runs that give it.</param>
    public static string? Caution(Factor factor, IReadOnlyList<PlacedRun> runs)
    {
        var others = Enum.GetValues<Factor>().Where(f => f != factor && ModelTerms.Varies(runs, f))
            .Select(f => (Factor: f, Tie: Tie(factor, f, runs))).ToList();
        string Names(List<(Factor Factor, double Tie)> list) => PlainWords.Listed([.. list.Select(o => FactorWords.Of(o.Factor))]);
        var one = others.Where(o => o.Tie >= AsOne).ToList();
        var partly = others.Where(o => o.Tie is >= Partly and < AsOne).ToList();
        var apart = others.Where(o => o.Tie < Partly).ToList();
        string name = FactorWords.Of(factor);
        var sentences = new List<string>();
        if (one.Count > 0)
        {
            sentences.Add($"The {name} changed together with {Names(one)}: the effect may be due to either.");
        }

        if (partly.Count > 0)
        {
            sentences.Add($"The {name} changed partly together with {Names(partly)}, so part of the effect may be due to them.");
        }

        if (apart.Count > 0)
        {
            sentences.Add($"In these runs {Names(apart)} changed too, which widens the scatter.");
        }

        return sentences.Count == 0 ? null : string.Join(" ", sentences);
    }

    /// <summary>Factors that are not offsets and changed as one with an offset; empty where none did.</summary>
    /// <param name="runs">The runs.</param>
    public static IReadOnlyList<Factor> AsOneWithOffsets(IReadOnlyList<PlacedRun> runs)
    {
        var varied = Enum.GetValues<Factor>().Where(f => ModelTerms.Varies(runs, f)).ToList();
        return [.. varied.Where(f => !FactorWords.IsOffset(f) && varied.Exists(o => FactorWords.IsOffset(o) && Tie(o, f, runs) >= AsOne))];
    }

    // Correlation of two numbers, for an offset of its size as well, or the correlation ratio where one of the two is a case. 0 to 1.
    private static double Tie(Factor a, Factor b, IReadOnlyList<PlacedRun> runs)
    {
        if (a == Factor.Case || b == Factor.Case)
        {
            var number = a == Factor.Case ? b : a;
            double[] values = [.. runs.Select(r => r.Factors.Of(number)!.Value)];
            double mean = values.Average(), total = values.Sum(v => (v - mean) * (v - mean));
            double between = runs.GroupBy(r => r.Factors.Case)
                .Sum(g => g.Count() * Math.Pow(g.Average(r => r.Factors.Of(number)!.Value) - mean, 2));
            return Math.Sqrt(between / total);
        }

        double[] x = [.. runs.Select(r => r.Factors.Of(a)!.Value)], y = [.. runs.Select(r => r.Factors.Of(b)!.Value)];
        double straight = Correlation(x, y);

        // Offsets work by their size: a gap that grows with the distance on both sides has no straight correlation with it.
        double bySize = FactorWords.IsOffset(a) == FactorWords.IsOffset(b)
            ? 0
            : Math.Max(Correlation(Sizes(x), y), Correlation(x, Sizes(y)));
        return Math.Max(straight, bySize);
    }

    private static double[] Sizes(double[] values) => [.. values.Select(Math.Abs)];

    private static double Correlation(double[] x, double[] y)
    {
        double mx = x.Average(), my = y.Average();
        double xx = x.Sum(v => (v - mx) * (v - mx)), yy = y.Sum(v => (v - my) * (v - my)), xy = x.Zip(y, (a, b) => (a - mx) * (b - my))
            .Sum();
        return xx > 0 && yy > 0 ? Math.Abs(xy) / Math.Sqrt(xx * yy) : 0;
    }
}
