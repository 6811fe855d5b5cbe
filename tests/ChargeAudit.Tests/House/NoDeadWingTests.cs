using ChargeAudit.Cli;

namespace ChargeAudit.Tests.House;

/// <summary>Code that no command reaches is used, moved to the tests, or deleted.</summary>
public sealed class NoDeadWingTests
{
    // What tests, documents or those who use the libraries call. It may only become shorter.
    private static readonly HashSet<string> Kept = new(StringComparer.Ordinal)
    {
        "ChargeAudit.Analysis.Alignment.ClockAlignment.ToReferenceS",
        "ChargeAudit.Analysis.Checking.DriftTest.Of",
        "ChargeAudit.Analysis.Checking.DriftTest.Series",
        "ChargeAudit.Analysis.Coils.CoilLink.EfficiencyAtLoad",
        "ChargeAudit.Analysis.Integration.LogSummary.Combine",
        "ChargeAudit.Analysis.Integration.LogSummary.Copy",
        "ChargeAudit.Analysis.Integration.LogSummary.get_CounterChargeC",
        "ChargeAudit.Analysis.Integration.PowerEnvelope.Combine",
        "ChargeAudit.Analysis.Losses.AdapterCurve.AverageEfficiency",
        "ChargeAudit.Analysis.Placement.Triangulation.get_Triangles",
        "ChargeAudit.Analysis.Standby.DriftRule.AllowedResolutionW",
        "ChargeAudit.Analysis.Standby.DriftRule.AllowedUncertaintyW",
        "ChargeAudit.Analysis.Yearly.Currency.get_All",
        "ChargeAudit.Analysis.Yearly.LocalCalendar.HoursOfDay",
        "ChargeAudit.Logs.Dialects.NumberStyle.get_Point",
        "ChargeAudit.Logs.Reading.Sample.Empty",
        "ChargeAudit.Metrology.Repeats.RatioOfMeans.Compare",
        "ChargeAudit.Metrology.Statistics.Autocorrelation.EffectiveSampleSize",
        "ChargeAudit.Metrology.Statistics.LeastSquaresFit.Correlation",
        "ChargeAudit.Metrology.Statistics.LeastSquaresFit.get_Intercept",
        "ChargeAudit.Metrology.Statistics.StudentDistribution.LowerTail",
        "ChargeAudit.Metrology.Statistics.TestPower.OfMargin",
        "ChargeAudit.Metrology.Statistics.TestPower.OfTwoMeans",
        "ChargeAudit.Metrology.Statistics.TestPower.RunsNeeded",
        "ChargeAudit.Metrology.Units.UnitTable.get_All",
        "ChargeAudit.Reports.Html.HtmlPage.Of",
        "ChargeAudit.Reports.Markdown.CheckMarkdown.Of",
    };

    [Fact]
    public void Every_method_is_reached_from_a_command()
    {
        var program = typeof(ChargeAuditProgram).Assembly;
        var reached = new Reachability([program.EntryPoint!, .. typeof(ChargeAuditProgram).GetMethods()]);

        // The namespaces of a method move with the rooms of the house; its own and its type's name stay.
        static string Short(string name) => string.Join('.', name.Split('.')[^2..]);
        var kept = Kept.Select(Short).ToHashSet(StringComparer.Ordinal);
        var dead = reached.Unreached(Reachability.Shipped(program)).Where(m => !kept.Contains(Short(m))).ToList();
        Assert.True(dead.Count == 0, "nothing reaches:\n" + string.Join('\n', dead));
    }

    // A probe of the probe: what the program certainly reaches, and what it certainly does not.
    [Fact]
    public void What_is_reached_and_what_is_not_are_told_apart()
    {
        var nothing = new Reachability([]);
        Assert.Contains("ChargeAudit.Cli.ChargeAuditProgram.RunAsync", nothing.Unreached([typeof(ChargeAuditProgram).Assembly]));
    }
}
