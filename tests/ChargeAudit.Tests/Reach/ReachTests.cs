namespace ChargeAudit.Tests.Reach;

/// <summary>The short form of the command <c>reach</c> of the benchmarks: damaged and hostile inputs of every kind, within this
/// process. They watch the memory of the whole process, so nothing else may run beside them.</summary>
[Collection(Alone)]
public sealed class ReachTests
{
    /// <summary>The collection of tests that run by themselves.</summary>
    internal const string Alone = "alone";

    [Fact]
    public void Whatever_an_input_holds_it_is_answered_or_refused_with_a_sentence()
    {
        using var families = new ReachFamilies(Directory.CreateTempSubdirectory("chargeaudit-").FullName);
        var run = new ReachRun(families, seed: 20310507, longestS: 60);
        var failures = Enumerable.Range(0, 1200).Select(i => run.Try(i)).OfType<ReachFailure>().ToList();
        Assert.True(failures.Count == 0, string.Join('\n', failures.Take(5).Select(f => $"{f.Family}, input {f.Number}: {f.What}")));
        Assert.All(run.Counts, c => Assert.True(c.Inputs > 10, c.Family));

        // A change that these do not notice is rare.
        Assert.All(run.Counts,
            c => Assert.True(c.Answered > 0 || c.Family is "workbook" or "archive" or "summary" or "database", c.Family));
    }
}

/// <summary>What runs by itself, after all others.</summary>
[CollectionDefinition(ReachTests.Alone, DisableParallelization = true)]
public sealed class RunsAlone;
