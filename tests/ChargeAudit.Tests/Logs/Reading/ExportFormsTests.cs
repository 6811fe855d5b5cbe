using ChargeAudit.Logs;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;

namespace ChargeAudit.Tests.Logs.Reading;

/// <summary>What exports and bench instruments put around and into a table.</summary>
public sealed class ExportFormsTests
{
    private static readonly string Rows = string.Concat(Enumerable.Range(0, 60).Select(i => $"{i},4.5,5.0\n"));

    [Theory]
    [InlineData("double,double,double\ntime,power (W),voltage (V)\n")]
    [InlineData("time,power (W),voltage (V)\nint64,float64,float64\n")]
    [InlineData("time,power (W),voltage (V)\ntimestamp,\"decimal(9,3)\",double\n")]
    [InlineData("#datatype,double,double\n#group,false,false\n#default,,\ntime,power (W),voltage (V)\n")]
    [InlineData("time,power,voltage\nlong,double,double\ns,W,V\n")]
    [InlineData("time,power,voltage\ns,W,V\nlong,double,double\n")]
    public void Rows_of_types_and_annotations_are_no_header(string above)
    {
        LogText.Read read = LogText.Of(above + Rows);

        Assert.Equal((60, 0), (read.Outcome.Rows, read.Outcome.RowsSkipped));
        Assert.Equal([LogQuantity.Time, LogQuantity.Power, LogQuantity.Voltage], read.Layout.Columns.Select(c => c.Quantity));
        Assert.Empty(read.Outcome.Faults);
    }

    // SCPI-1999, volume 1, 7.2.1 (from memory): 9.9E37 is infinity, 9.91E37 not a number.
    [Theory]
    [InlineData("9.91E37", FaultKind.UnreadableField)]
    [InlineData("+9.91000000E+37", FaultKind.UnreadableField)]
    [InlineData("9.9E37", FaultKind.Clipped)]
    [InlineData("-9.90000000E+37", FaultKind.Clipped)]
    [InlineData("99000000000000000000000000000000000000", FaultKind.Clipped)]
    public void The_numbers_that_instruments_write_for_no_reading_are_none(string written, FaultKind kind)
    {
        string rows = string.Concat(Enumerable.Range(0, 60).Select(i => $"{i},5.0,{(i == 30 ? written : "0.9")}\n"));

        LogText.Read read = LogText.Of("TIME,VOLT,CURR\n" + rows);

        Fault fault = Assert.Single(read.Outcome.Faults);
        Assert.Equal((kind, 32), (fault.Kind, fault.FirstLine));
        Assert.True(double.IsNaN(read.Samples[30].CurrentA));
    }

    [Theory]
    [InlineData("VOLT,CURR,POW")]
    [InlineData("Volt,Curr,Pow")]
    [InlineData("VOLT:DC,CURR:DC,POW")]
    public void Headers_of_bench_supplies_are_known(string header)
    {
        LogText.Read read = LogText.Of($"TIME,{header}\n" + string.Concat(Enumerable.Range(0, 20).Select(i => $"{i},5.0,0.9,4.5\n")),
            new LogOptions { Strict = true });

        Assert.Equal((5.0, 0.9, 4.5), (read.Samples[3].VoltageV, read.Samples[3].CurrentA, read.Samples[3].PowerW));
    }

    [Fact]
    public void Units_may_stand_behind_each_value()
    {
        LogText.Read read =
            LogText.Of("time;voltage;current\n" + string.Concat(Enumerable.Range(0, 20).Select(i => $"{i} s;5.01 VDC;{900 + i} mADC\n")));

        Assert.Equal((5.01, 0.919), (read.Samples[19].VoltageV, Math.Round(read.Samples[19].CurrentA, 9)));
        Assert.Empty(read.Outcome.Faults);
    }

    // Nothing is missing where the sum stands in a column of its own.
    [Theory]
    [InlineData("time,P L1 (W),P L2 (W),P L3 (W),P total (W)", 4)]
    [InlineData("time,I L1 (A),I L2 (A),I L3 (A),P (W)", 4)]
    public void A_total_beside_phases_is_read(string header, int column)
    {
        LogText.Read read = LogText.Of(header + "\n0,1,2,3,6\n1,2,2,3,7\n2,1,3,3,7\n");

        Assert.Equal(LogQuantity.Power, read.Layout.Columns[column].Quantity);
        Assert.Equal([6.0, 7, 7], read.Samples.Select(s => s.PowerW));
    }

    [Theory]
    [InlineData("when?;what\n0;4.5\n1;4.6\n2;4.7\n")]
    [InlineData("0,5,1\n1,5,1\n2,5,1\n")]
    [InlineData("a,U (V),I (A)\n0,5,1\n1,5,1\n2,5,1\n")]
    [InlineData("2031-05-07 18:30:00;x;7\n2031-05-07 18:30:01;y;8\n2031-05-07 18:30:02;z;8\n")]
    [InlineData("t,colour,weight\n0,5,1\n1,5,1\n2,5,1\n")]
    public void What_a_refusal_of_columns_says_to_do_reads_the_log(string log)
    {
        InputException refused = Assert.Throws<InputException>(() => LogText.Of(log));
        Assert.Equal(Remedy.Columns, refused.Remedy);

        // Where it is open what a column holds, the user knows it.
        string said = refused.RemedyValue!.Split(", with")[0].Trim('\'');
        int open = said.IndexOf('?', StringComparison.Ordinal);
        said = open < 0 ? said : said.Remove(open, 1).Insert(open, "power[W]");
        var columns = new Dictionary<LogQuantity, ColumnChoice>();
        string[] names = said.Split(',');
        for (int i = 0; i < names.Length; i++)
        {
            string[] parts = names[i].TrimEnd(']').Split('[');
            if (parts[0] is not ("-" or "?"))
            {
                columns.Add(Enum.Parse<LogQuantity>(parts[0].Replace("-", "", StringComparison.Ordinal), ignoreCase: true),
                    new ColumnChoice(null, i + 1, parts.Length > 1 ? parts[1] : null));
            }
        }

        Assert.Equal(3, LogText.Of(log, new LogOptions { Columns = columns }).Samples.Count);
    }
}
