using System.Text;
using ChargeAudit.Logs;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;

namespace ChargeAudit.Tests.Logs.Reading;

/// <summary>Each fault of a row is counted with its lines and a sentence; nothing is lost in silence.</summary>
public sealed class FaultTests
{
    [Fact]
    public void A_field_that_is_no_number_loses_only_itself()
    {
        LogText.Read read = Of(20, (5, "5,x\u0007y,1"), (9, "9,5,"));

        Fault fault = Assert.Single(read.Outcome.Faults);
        Assert.Equal((FaultKind.UnreadableField, 7L, 11L, 2L), (fault.Kind, fault.FirstLine, fault.LastLine, fault.Count));
        Assert.Equal("\"x\\u0007y\" in column \"U\" is no number; such readings were left out.", fault.Detail);
        Assert.Equal(20, read.Outcome.Rows);
        Assert.True(double.IsNaN(read.Samples[5].VoltageV));
        Assert.Equal(1, read.Samples[5].CurrentA);
    }

    [Fact]
    public void A_row_without_a_time_is_left_out()
    {
        LogText.Read read = Of(20, (5, "5x,5,1"));

        Fault fault = Assert.Single(read.Outcome.Faults);
        Assert.Equal((FaultKind.UnreadableField, 7L, 1L), (fault.Kind, fault.FirstLine, fault.Count));
        Assert.StartsWith("\"5x\" is no time", fault.Detail, StringComparison.Ordinal);
        Assert.Equal((19L, 1L), (read.Outcome.Rows, read.Outcome.RowsSkipped));
    }

    [Fact]
    public void A_row_without_a_reading_is_left_out()
    {
        LogText.Read read = Of(60, (5, "5,,"));

        Assert.Equal(1, read.Outcome.RowsSkipped);
        Assert.Equal(FaultKind.UnreadableField, Assert.Single(read.Outcome.Faults).Kind);
    }

    [Fact]
    public void A_row_of_which_no_reading_can_be_read_counts_once()
    {
        string log = "time (s),power (W)\n" + string.Concat(Enumerable.Range(0, 100)
            .Select(i => InvariantText.Of($"{i},{(i == 5 ? "x" : i == 9 ? "9.9E37" : "5")}\n")));

        LogText.Read read = LogText.Of(log);

        Assert.Equal([(FaultKind.UnreadableField, 1L), (FaultKind.Clipped, 1L)], read.Outcome.Faults.Select(f => (f.Kind, f.Count)));
        Assert.Equal(2, read.Outcome.RowsSkipped);
    }

    [Theory]
    [InlineData("5,5", FaultKind.ShortRow, "A row with 2 fields where 3 were expected")]
    [InlineData("5", FaultKind.ShortRow, "A row with 1 field where 3 were expected")]
    [InlineData("5,5,1,7", FaultKind.LongRow, "A row with 4 fields where 3 were expected")]
    public void A_row_with_another_number_of_fields_is_left_out(string row, FaultKind kind, string detail)
    {
        LogText.Read read = Of(20, (5, row));

        Fault fault = Assert.Single(read.Outcome.Faults);
        Assert.Equal((kind, 7L, 1L), (fault.Kind, fault.FirstLine, fault.Count));
        Assert.StartsWith(detail, fault.Detail, StringComparison.Ordinal);
        Assert.Equal(1, read.Outcome.RowsSkipped);
    }

    [Fact]
    public void A_last_line_that_was_cut_is_a_fault_and_not_a_total()
    {
        LogText.Read read = Of(20, (19, "19,5"));

        Assert.Equal((FaultKind.ShortRow, 21L), (read.Outcome.Faults[0].Kind, read.Outcome.Faults[0].FirstLine));
    }

    [Theory]
    [InlineData("OL")]
    [InlineData("inf")]
    [InlineData("OVER")]
    public void An_overload_mark_is_clipping(string mark)
    {
        LogText.Read read = Of(20, (5, $"5,5,{mark}"));

        Assert.Equal(FaultKind.Clipped, Assert.Single(read.Outcome.Faults).Kind);
    }

    [Fact]
    public void A_column_that_is_often_empty_is_no_fault()
    {
        string rows = string.Concat(Enumerable.Range(0, 40).Select(i => $"{i},5,1,{(i % 10 == 0 ? "21.5" : "")}\n"));

        LogText.Read read = LogText.Of("t (s),U (V),I (A),temperature (°C)\n" + rows);

        Assert.Empty(read.Outcome.Faults);
        Assert.Equal(4, read.Samples.Count(s => s.TemperatureC == 21.5));
    }

    [Fact]
    public void Bytes_that_are_not_text_are_counted()
    {
        byte[] bytes =
            Encoding.UTF8.GetBytes("t,U (V),I (A),note é\n" + string.Concat(Enumerable.Range(0, 30).Select(i => $"{i},5,1,ok\n")));
        int at = bytes.AsSpan().IndexOf("7,5,1,ok"u8) + 6;
        bytes[at] = 0xFF;

        LogText.Read read = LogText.Of(bytes);

        Fault fault = Assert.Single(read.Outcome.Faults);
        Assert.Equal((FaultKind.Encoding, 9L, 1L), (fault.Kind, fault.FirstLine, fault.Count));
        Assert.Equal(30, read.Outcome.Rows);
    }

    [Fact]
    public void Zero_bytes_of_a_power_cut_are_counted()
    {
        LogText.Read read = Of(40, (20, "20,5\0\0\0\0,1"));

        Assert.Contains(read.Outcome.Faults, f => f.Kind == FaultKind.Encoding && f.FirstLine == 22);
        Assert.Contains(read.Outcome.Faults, f => f.Kind == FaultKind.UnreadableField && f.FirstLine == 22);
    }

    [Fact]
    public void A_quote_that_is_not_closed_spoils_one_line_only()
    {
        LogText.Read read = Of(20, (5, "5,\"5,1"));

        Assert.Equal(1, read.Outcome.RowsSkipped);
        Assert.Equal(19, read.Outcome.Rows);
    }

    [Fact]
    public void What_was_passed_over_is_told()
    {
        LogText.Read read = LogText.Of("t,U,I\n0,5,1\n# pause\n1,5,1\nt,U,I\n2,5,1\n# pause\n3,5,1\nmean,5,1\n");

        Assert.Equal(
            ["2 comment lines passed over, the first at line 3.", "1 repeated header line passed over, the first at line 5.",
                "1 line of text after the last row passed over, the first at line 9."],
            read.Outcome.Notes);
        Assert.Empty(read.Outcome.Faults);
        Assert.Equal(0, read.Outcome.RowsSkipped);
    }

    [Fact]
    public void Text_between_rows_is_a_fault()
    {
        LogText.Read read = Of(40, (20, "paused by user"));

        Assert.Equal((FaultKind.ShortRow, 22L), (read.Outcome.Faults[0].Kind, read.Outcome.Faults[0].FirstLine));
        Assert.Equal(1, read.Outcome.RowsSkipped);
    }

    [Fact]
    public void Faults_stand_in_the_order_of_their_first_lines()
    {
        LogText.Read read = Of(100, (50, "x,5,1"), (30, "30,5,1,1"), (70, "70,5"), (10, "8,5,1"));

        Assert.Equal([FaultKind.TimeBackwards, FaultKind.LongRow, FaultKind.UnreadableField, FaultKind.ShortRow],
            read.Outcome.Faults.Select(f => f.Kind));
        Assert.Equal(4, read.Outcome.RowsSkipped);
        Assert.Equal(96, read.Outcome.Rows);
    }

    [Fact]
    public void More_bad_rows_than_allowed_refuse_the_log()
    {
        (int, string)[] bad = [.. Enumerable.Range(0, 6).Select(i => (i * 10, $"{i * 10},5"))];

        InputException refused = Assert.Throws<InputException>(() => Of(100, bad));
        LogText.Read read = Of(100, new LogOptions { MaxBadRowShare = 0.06 }, bad);

        Assert.EndsWith(
            ": 6 of 100 rows cannot be used, more than the 5 % allowed (line 2: A row with 2 fields where 3 were expected; such rows were "
                + "left out); correct the log, or export it again.",
            refused.Message, StringComparison.Ordinal);
        Assert.Equal(6, read.Outcome.RowsSkipped);
    }

    [Fact]
    public void Strict_reading_refuses_at_the_first_fault()
    {
        InputException refused = Assert.Throws<InputException>(() => Of(20, new LogOptions { Strict = true }, (5, "5,abc,1"), (7, "7,5")));

        Assert.Equal(InputProblem.Unusable, refused.Problem);
        Assert.EndsWith(
            "log.csv, line 7: \"abc\" in column \"U\" is no number; such readings were left out (unreadable-field), and under strict "
                + "reading the first fault refuses the log; correct the row, or read without strict.",
            refused.Message, StringComparison.Ordinal);
    }

    private static LogText.Read Of(int rows, params (int Row, string Text)[] changes) => Of(rows, new LogOptions(), changes);

    private static LogText.Read Of(int rows, LogOptions options, params (int Row, string Text)[] changes) =>
        LogText.Of("t,U,I\n"
            + string.Concat(Enumerable.Range(0, rows)
            .Select(i => (changes.FirstOrDefault(c => c.Row == i && c.Text is not null).Text ?? $"{i},5,1") + "\n")), options);
}
