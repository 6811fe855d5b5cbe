using ChargeAudit.LogMaker.Coverage;
using ChargeAudit.LogMaker.Studies;

namespace ChargeAudit.Tests.Coverage;

/// <summary>The short form of the table in docs/uncertainty.md: seeded studies whose logs share no code with the program.</summary>
public sealed class LogCoverageTests : IDisposable
{
    private const ulong FirstSeed = 400;
    private const int Studies = 48;

    // Enough that a share of 93 % would leave the 99 % interval below it in few rows only by bad luck, and none by design: the seeds are
    // fixed.
    private const int LeastIntervals = 20;

    private static readonly Lock Once = new();
    private static IReadOnlyList<Trial>? _trials;
    private readonly string _folder = Path.Combine(Path.GetTempPath(), "chargeaudit-" + Path.GetRandomFileName());

    [Fact]
    public void Every_study_gets_an_answer() =>
        Assert.Empty(Trials().Where(t => t.Outcome == Outcome.Stopped).Select(t => $"seed {t.Study.Seed}: {t.Stopped}").Distinct());

    [Theory]
    [InlineData(FigureKind.Energy)]
    [InlineData(FigureKind.Ratio)]
    [InlineData(FigureKind.NoLoad)]
    [InlineData(FigureKind.Maintenance)]
    [InlineData(FigureKind.YearEnergy)]
    [InlineData(FigureKind.YearCost)]
    public void Intervals_hold_the_truth_as_often_as_they_say(FigureKind figure)
    {
        var all = new CoverageRow(figure, "all logs", [.. Trials().Where(t => t.Truth.Figure == figure)]);
        Assert.True(all.Intervals >= LeastIntervals, $"only {all.Intervals} intervals");
        CoverageRow[] tooFew = [.. CoverageRow.Of(Trials()).Where(r => r.Figure == figure && r.Intervals >= LeastIntervals).Append(all)
            .Where(r => r.TooFew)];
        Assert.True(tooFew.Length == 0, CoverageRow.ToMarkdown(tooFew)
            + string.Join('\n', all.Trials.Where(t => t.Outcome == Outcome.Misses)));
    }

    public void Dispose()
    {
        if (Directory.Exists(_folder))
        {
            Directory.Delete(_folder, recursive: true);
        }
    }

    private IReadOnlyList<Trial> Trials()
    {
        lock (Once)
        {
            return _trials ??=
            [
                .. Enumerable.Range(0, Studies).Select(i => StudyMaker.Of(FirstSeed + (ulong)i))
                    .SelectMany(made => Trial.Of(made, AuditOfMadeStudy.Of(made, _folder))),
            ];
        }
    }
}
