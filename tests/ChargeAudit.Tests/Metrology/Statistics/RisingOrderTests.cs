using ChargeAudit.Metrology.Statistics;

namespace ChargeAudit.Tests.Metrology.Statistics;

public sealed class RisingOrderTests
{
    /// <summary>The framework's own sort says what is right, on both sides of each count at which the way of sorting changes.</summary>
    [Theory]
    [InlineData(0)]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(15)]
    [InlineData(32)]
    [InlineData(33)]
    [InlineData(64)]
    [InlineData(65)]
    [InlineData(5000)]
    public void NumbersComeInTheFrameworksOrder(int count)
    {
        var dice = new Random(count);
        double[] special =
            [double.NaN, double.NegativeInfinity, double.PositiveInfinity, 0, double.Epsilon, -double.MaxValue, double.MaxValue];
        Func<double>[] kinds =
        [
            () => Math.Round(dice.NextDouble(), 4),
            () => dice.NextDouble() - 0.5,
            () => Math.Pow(10, (600 * dice.NextDouble()) - 300) * (dice.Next(2) == 0 ? 1 : -1),
            () => dice.Next(3) == 0 ? special[dice.Next(special.Length)] : dice.Next(-5, 5),
            () => 1,
        ];
        foreach (Func<double> kind in kinds)
        {
            double[] values = [.. Enumerable.Range(0, count).Select(_ => kind())];
            double[] expected = [.. values];
            Array.Sort(expected);
            RisingOrder.Sort(values);
            Assert.Equal(expected, values);
        }
    }

    [Fact]
    public void OnlyThePartThatIsGivenIsSorted()
    {
        double[] values = [9, 3, 2, 1, 0];
        RisingOrder.Sort(values.AsSpan(1, 3));
        Assert.Equal([9, 1, 2, 3, 0], values);
    }
}
