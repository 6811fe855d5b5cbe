using ChargeAudit.Cli;

namespace ChargeAudit.Tests.House;

/// <summary>Code that no command reaches is used, moved to the tests, or deleted.</summary>
public sealed class NoDeadWingTests
{
    // What tests, documents or those who use the libraries call. It may only become shorter.
    private static readonly HashSet<string> Kept = new(StringComparer.Ordinal)
    {
        "ChargeAudit.Measuring.Alignment.ClockAlignment.ToReferenceS",
        "ChargeAudit.Checking.DriftTest.Of",
        "ChargeAudit.Checking.DriftTest.Series",
        "ChargeAudit.Coils.CoilLink.EfficiencyAtLoad",
        "ChargeAudit.Measuring.Integration.LogSummary.Combine",
        "ChargeAudit.Measuring.Integration.LogSummary.Copy",
        "ChargeAudit.Measuring.Integration.LogSummary.get_CounterChargeC",
        "ChargeAudit.Comparing.Placement.Triangulation.get_Triangles",
        "ChargeAudit.Measuring.Standby.DriftRule.AllowedResolutionW",
        "ChargeAudit.Measuring.Standby.DriftRule.AllowedUncertaintyW",
        "ChargeAudit.Comparing.Yearly.Currency.get_All",
        "ChargeAudit.Comparing.Yearly.LocalCalendar.HoursOfDay",
        "ChargeAudit.Logs.Numbers.NumberStyle.get_Point",
        "ChargeAudit.Logs.Sample.Empty",
        "ChargeAudit.Metrology.Repeats.RatioOfMeans.Compare",
        "ChargeAudit.Metrology.Statistics.Autocorrelation.EffectiveSampleSize",
        "ChargeAudit.Metrology.Statistics.LeastSquaresFit.Correlation",
        "ChargeAudit.Metrology.Statistics.LeastSquaresFit.get_Intercept",
        "ChargeAudit.Metrology.Units.UnitTable.get_All",
        "ChargeAudit.Reports.Html.HtmlPage.Of",
        "ChargeAudit.Reports.Markdown.CheckMarkdown.Of",

        // For programs that must not wait; a command may.
        "ChargeAudit.Logs.Reading.LogFile.ReadIntoAsync",
        "ChargeAudit.Measuring.LogMeasurer.MeasureAsync",
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
