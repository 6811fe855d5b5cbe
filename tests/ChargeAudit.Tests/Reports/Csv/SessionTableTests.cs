using ChargeAudit.Comparing.Tables;
using ChargeAudit.Reports.Csv;

namespace ChargeAudit.Tests.Reports.Csv;

public sealed class SessionTableTests
{
    [Theory]
    [MemberData(nameof(Golden.Cultures), MemberType = typeof(Golden))]
    public void The_table_is_the_same_under_every_culture(string culture) =>
        Golden.Check("sessions.csv", Golden.Under(culture, () => TableCsv.Text(SessionTable.Of(Small().Build()))));

    [Fact]
    public void Rows_that_count_add_up_to_the_energies_of_the_runs_that_count()
    {
        var result = Small().Build();
        var table = SessionTable.Of(result);
        double expected = result.Methods.SelectMany(m => m.Runs).Where(r => r.Excluded is null).SelectMany(r => r.Points.Values)
            .Sum(p => p.Energy.Value);
        double got = table.Rows.Where(r => r[Column(table, "in_energy_per_charge")] is true)
            .Sum(r => (double)r[Column(table, "energy_wh")]);
        Assert.Equal(expected, got, 1e-9 * expected);
    }

    [Fact]
    public void Every_mode_of_every_log_has_one_row()
    {
        var result = Small().Build();
        Assert.Equal(result.Logs.Sum(l => l.Modes.Count), SessionTable.Of(result).Rows.Count);
    }

    [Fact]
    public void A_waiting_log_has_no_run_but_its_method()
    {
        var table = SessionTable.Of(Small().Build());
        var row = table.Rows.Last();
        Assert.Null(row[Column(table, "run")]);
        Assert.Equal("pad", row[Column(table, "method")]);
        Assert.Equal("no-load", row[Column(table, "mode")]);
    }

    [Fact]
    public void Without_uncertainty_those_cells_are_empty_and_not_zero()
    {
        var table = SessionTable.Of((Small() with { KnownUncertainty = false }).Build());
        Assert.All(table.Rows, r => Assert.Null(r[Column(table, "energy_wh_u")]));
        Assert.All(table.Rows, r => Assert.NotNull(r[Column(table, "energy_wh")]));
    }

    [Fact]
    public void A_log_that_holds_two_runs_gives_each_stretch_to_one_of_them()
    {
        var result = Small().Build();
        var run = result.Methods[0].Runs[0];
        var (point, seen) = (run.Points.Keys.First(), run.Points.Values.First());
        double middle = 0.5 * (seen.Charge.StartS + seen.Charge.EndS);
        var first = seen with { Charge = seen.Charge with { EndS = middle } };
        var second = seen with { Charge = seen.Charge with { StartS = middle } };
        var runs = new[] { run with
        {
            Id = "cable-1",
            Points = new Dictionary<ChargeAudit.Logs.MeasuringPoint, ChargeAudit.Comparing.Runs.RunPointResult> { [point] = first },
        },
            run with { Id = "cable-2", Points =
                new Dictionary<ChargeAudit.Logs.MeasuringPoint, ChargeAudit.Comparing.Runs.RunPointResult> { [point] = second } } };
        var table = SessionTable.Of(result with { Methods = [result.Methods[0] with { Runs = runs }], Logs = [seen.Log] });
        Assert.Equal(["no-load cable-1", "charge cable-1", "charge cable-2", "maintenance cable-2"],
            table.Rows.Select(r => $"{r[Column(table, "mode")]} {r[Column(table, "run")]}"));
    }

    [Fact]
    public void Fields_with_commas_quotes_and_line_ends_are_quoted()
    {
        string text = TableCsv.Text(SessionTable.Of((Small() with { Pad = "a,\"b\"\nc" }).Build()));
        Assert.Contains("\"a,\"\"b\"\"\nc\"", text, StringComparison.Ordinal);
    }

    private static ReportFixture Small() => new() { SamplesPerLog = 60, IntervalS = 120, Runs = 2 };

    private static int Column(Microsoft.Data.Analysis.DataFrame table, string name) =>
        table.Columns.Select(c => c.Name).ToList().IndexOf(name);

    [Theory]
    [InlineData("=cmd|'/c calc'!A1", "'=cmd|'/c calc'!A1")]
    [InlineData("@SUM(A1)", "'@SUM(A1)")]
    [InlineData("+1", "'+1")]
    [InlineData("-2", "'-2")]
    [InlineData("  =1", "'  =1")]
    [InlineData("＝1", "'＝1")]
    [InlineData("pad = new", "pad = new")]
    [InlineData("a\u001B[2J", "a<U+001B>[2J")]
    public void A_text_that_a_spreadsheet_would_run_stands_behind_an_apostrophe(string text, string written)
    {
        var table = new Microsoft.Data.Analysis.DataFrame(new Microsoft.Data.Analysis.StringDataFrameColumn("name", [text]),
            new Microsoft.Data.Analysis.DoubleDataFrameColumn("x", [-1.5]));
        Assert.Equal($"name,x\n{written},-1.5\n", TableCsv.Text(table));
    }
}
