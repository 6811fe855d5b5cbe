using ChargeAudit.Pooling.Results;

namespace ChargeAudit.Reports.Text;

/// <summary>A pool in sentences.</summary>
public static class PoolAnswer
{
    /// <summary>The answer in one sentence.</summary>
    /// <param name="pool">The pool.</param>
    public static string Of(PoolResult pool)
    {
        ArgumentNullException.ThrowIfNull(pool);
        return pool.Main is not { } main ? "No audit has an overhead to pool."
            : main.Answer is not { } answer ? $"There is no common answer, only the list: {main.WhyNot}."
            : $"Over {main.Devices.Count} devices, a charge on a pad uses {PoolText.Of(answer.Mean)} times the energy of the reference; "
                + "the true ratio of another device of the kind lies between "
                + $"{PoolText.Range(answer.AnotherDevice).Replace(" to ", " and ", StringComparison.Ordinal)} in 95 of 100 cases.";
    }

    /// <summary>Effects of factors, and why some have none.</summary>
    /// <param name="pool">The pool.</param>
    public static IReadOnlyList<string> Factors(PoolResult pool)
    {
        ArgumentNullException.ThrowIfNull(pool);
        return [.. pool.Factors.Select(f => f.Level is null
            ? $"{f.Factor}: one more multiplies the overhead ratio by {PoolText.Of(f.Ratio)}"
            : $"{f.Factor}: {f.Level} instead of {f.Base} multiplies the overhead ratio by {PoolText.Of(f.Ratio)}"), .. pool.NoRegression];
    }
}
