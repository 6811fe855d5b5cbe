using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.Tests.Metrology.Uncertainty;

public sealed class FarFromZeroTests
{
    [Fact]
    public void TheIntervalOfAFigureThatIsFarFromZeroDoesNotReachIt()
    {
        var dice = new Random(9);
        int far = 0;
        for (int i = 0; i < 2000; i++)
        {
            var components = Enumerable.Range(0, dice.Next(1, 5)).Select(n => new UncertaintyComponent(
                InfluenceSource.OfLog("log", SourceKind.Noise, $"part-{n}", (ErrorShape)dice.Next(4)),
                Math.Exp(4 * (dice.NextDouble() - 0.5))));
            var figure = Measured.From(20 * (dice.NextDouble() - 0.5), "W", components);
            if (figure.IsFarFromZero)
            {
                far++;
                var interval = figure.Interval()!.Value;
                Assert.True(interval.Low > 0 || interval.High < 0);
            }
        }

        Assert.InRange(far, 100, 1900);
    }

    [Fact]
    public void AScatterOfFewRunsIsNeverFarWithoutItsInterval()
    {
        // With one degree of freedom Student's t reaches 12.7 standard deviations out at 95 %.
        var few = InfluenceSource.OfLog("log", SourceKind.Noise, "scatter") with { DegreesOfFreedom = 1 };
        Assert.False(Measured.From(10, "W", [new UncertaintyComponent(few, 1)]).IsFarFromZero);
        Assert.True(Measured.From(10, "W", [new UncertaintyComponent(few, 1)]).Interval()!.Value.Low < 0);
    }

    [Fact]
    public void NothingIsSaidWhereTheIntervalIsUnknownOrWasGiven()
    {
        Assert.False(Measured.Unknown(10, "W", "nobody knows").IsFarFromZero);
        Assert.False(Measured.Exact(10, "W").WithInterval(c => new CoverageInterval(-1, 21, c, 2)).IsFarFromZero);
    }
}
