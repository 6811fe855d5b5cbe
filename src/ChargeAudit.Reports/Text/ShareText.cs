using ChargeAudit.Metrology;

namespace ChargeAudit.Reports.Text;

/// <summary>
/// Shares of one whole as text, to a tenth of a per cent, that add up as printed: each is cut down, and the tenths that are then missing go
/// to those that lost most (the method of largest remainders).
/// </summary>
public static class ShareText
{
    /// <summary>The texts, such as <c>66.2 %</c>.</summary>
    /// <param name="percents">Shares that add up to 100, but for rounding. [%]</param>
    public static IReadOnlyList<string> Of(IReadOnlyList<double> percents)
    {
        ArgumentNullException.ThrowIfNull(percents);
        int[] tenths = [.. percents.Select(p => (int)Math.Floor(10 * p))];
        int missing = (int)Math.Round(10 * percents.Sum()) - tenths.Sum();
        foreach (int i in Enumerable.Range(0, tenths.Length).OrderByDescending(i => (10 * percents[i]) - tenths[i])
            .Take(Math.Max(0, missing)))
        {
            tenths[i]++;
        }

        return [.. tenths.Select(t => WrittenMarks.Number(InvariantText.Of($"{t / 10}.{t % 10}")) + " %")];
    }
}
