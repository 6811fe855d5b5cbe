namespace ChargeAudit.Tests.Metrology.Coverage;

/// <summary>
/// Two thousand simulated studies of known truth, seeded. The full form, with other scatters, is <c>dotnet run --project
/// tests/ChargeAudit.Benchmarks -- coverage</c>; its table stands in docs/uncertainty.md.
/// </summary>
public sealed class CoverageStudyTests
{
    private const int StudiesEach = 250;

    private static readonly CoverageResult[] Results =
    [
        .. from runs in new[] { 1, 2, 3, 5 }
           from same in new[] { true, false }
           select CoverageStudy.Run(new CoverageCase(runs, same, ScatterModel.Normal), StudiesEach, seed: 700 + (10 * runs)
               + (same ? 1 : 0)),
    ];

    [Fact]
    public void Ninety_three_to_ninety_seven_percent_of_the_intervals_hold_the_truth()
    {
        // 2000 studies: the binomial standard deviation about 95 % is √(0.95·0.05/2000) = 0.49 %, so 93 to 97 % is four of them.
        Assert.InRange(Results.Average(r => r.Held), 0.93, 0.97);

        // A single case of 250: 1.38 %. Three of them below 93 %.
        Assert.All(Results, r => Assert.InRange(r.Held, 0.93 - 0.0414, 1));
    }

    [Fact]
    public void The_intervals_are_tight()
    {
        Assert.True(Results.Average(r => r.MeanWidth / r.IdealWidth) <= 1.3, $"{Results.Average(r => r.MeanWidth / r.IdealWidth)}");

        // The same meter on both methods makes the interval of one run each several times narrower: its gain cancels.
        double same = Results.Single(r => r.Case is { Runs: 1, SameMeter: true }).MeanWidth;
        double two = Results.Single(r => r.Case is { Runs: 1, SameMeter: false }).MeanWidth;
        Assert.True(two > 3 * same, $"{two} against {same}");
    }

    [Fact]
    public void A_check_that_can_fail()
    {
        // Intervals that take both scatters as exactly known (normal factor) would hold far less often at two runs: the study would see it.
        var few = Results.Single(r => r.Case is { Runs: 2, SameMeter: true });
        Assert.True(few.MeanWidth > 1.4 * few.OracleWidth);
    }
}
