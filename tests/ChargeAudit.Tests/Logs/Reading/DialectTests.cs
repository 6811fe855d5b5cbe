using System.IO.Compression;
using System.Text;
using ChargeAudit.Logs;
using ChargeAudit.Metrology;

namespace ChargeAudit.Tests.Logs.Reading;

/// <summary>One and the same log written in many ways must give the same samples.</summary>
public sealed class DialectTests
{
    private const string Plain =
        "time (s),voltage (V),current (A)\n0,5.01,0.5\n1,5.02,0.6\n2,5.03,0.75\n3,5.04,1.2345\n4,5.05,0.9\n5,5.06,0.8\n";

    public static TheoryData<string, string> Dresses => new()
    {
        { "comma", Plain },
        { "semicolon", Plain.Replace(',', ';') },
        { "tab", Plain.Replace(',', '\t') },
        { "bar", Plain.Replace(',', '|') },
        { "blank", "time_s voltage_V current_A\n" + string.Join('\n', Plain.Split('\n')[1..]).Replace(',', ' ') },
        { "runs of blanks", "  time_s   voltage_V \t current_A  \n" + string.Join('\n', Plain.Split('\n')[1..]).Replace(",", "    ") },
        { "decimal comma with semicolon", Plain.Replace(',', ';').Replace('.', ',') },
        { "decimal comma with tab", Plain.Replace(',', '\t').Replace('.', ',') },
        { "decimal comma in quotes", "time (s),voltage (V),current (A)\n"
            + string.Join('\n', Plain.Split('\n')[1..^1]
            .Select(l => string.Join(',', l.Split(',').Select(f => '"' + f.Replace('.', ',') + '"')))) + "\n" },
        { "quotes everywhere",
            string.Join('\n', Plain.Split('\n')[..^1].Select(l => string.Join(',', l.Split(',').Select(f => '"' + f + '"')))) + "\n" },
        { "CRLF", Plain.Replace("\n", "\r\n") },
        { "CR", Plain.Replace('\n', '\r') },
        { "no line end at the end", Plain.TrimEnd('\n') },
        { "blank lines", Plain.Replace("\n", "\n\n") },
        { "trailing separators", Plain.Replace("\n", ",\n") },
        { "trailing separators in the rows only", Plain.Replace("\n", ",\n").Replace("(A),", "(A)") },
        { "blanks around fields", Plain.Replace(",", " , ") },
        { "separator hint", "sep=,\n" + Plain },
        { "title above", "Bench supply\nOperator;someone\n\n" + Plain },
        { "metadata above", "Device,invented\nSerial,12345\nInterval,1\n\n" + Plain },
        { "comment lines above", "# a log\n# made up\n" + Plain },
        { "header in a comment", "# a log\n# " + Plain },
        { "comment in the middle", Plain.Replace("3,5.04", "# paused, 1, 2\n3,5.04") },
        { "unit row", Plain.Replace("time (s),voltage (V),current (A)", "time,voltage,current\ns,V,A") },
        { "unit row in brackets", Plain.Replace("time (s),voltage (V),current (A)", "time,voltage,current\n[s],[V],[A]") },
        { "units in square brackets", Plain.Replace('(', '[').Replace(')', ']') },
        { "units after underscores", Plain.Replace(" (", "_").Replace(")", "") },
        { "units after slashes", Plain.Replace(" (", "/").Replace(")", "") },
        { "units after 'in'", Plain.Replace(" (", " in ").Replace(")", "") },
        { "symbols", Plain.Replace("time (s),voltage (V),current (A)", "t,U,I") },
        { "symbols with units", Plain.Replace("time (s),voltage (V),current (A)", "t/s,U/V,I/A") },
        { "units alone", Plain.Replace("time (s),voltage (V),current (A)", "s,V,A") },
        { "other order and other columns", "no,current (A),state,voltage (V),time (s)\n"
            + string.Join('\n', Plain.Split('\n')[1..^1].Select((l, i) => $"{i},{l.Split(',')[2]},on,{l.Split(',')[1]},{l.Split(',')[0]}"))
            + "\n" },
        { "repeated header", Plain.Replace("3,5.04", "time (s),voltage (V),current (A)\n3,5.04") },
        { "totals below", Plain + "Total,,5.78\nend of log\n" },
        { "totals below without a label", Plain + ",,5.78\n" },
        { "units in the fields", "time,voltage,current\n"
            + string.Join('\n', Plain.Split('\n')[1..^1].Select(l => l.Split(',') is [var t, var u, var a] ? $"{t},{u} V,{a}A" : ""))
            + "\n" },
        { "explicit plus signs", Plain.Replace(",5.", ",+5.") },
        { "exponents", Plain.Replace(",0.5\n", ",5e-1\n").Replace(",1.2345", ",12345E-4") },
        { "leading point", Plain.Replace(",0.", ",.") },
    };

    [Theory]
    [MemberData(nameof(Dresses))]
    public void A_log_reads_the_same_in_any_dress(string dress, string text)
    {
        LogText.Read read = LogText.Of(text);

        AssertPlain(read);
        Assert.Empty(read.Outcome.Faults);
        Assert.NotEmpty(dress);
    }

    [Theory]
    [InlineData("utf-8", true, "UTF-8")]
    [InlineData("utf-16", true, "UTF-16 LE")]
    [InlineData("utf-16", false, "UTF-16 LE")]
    [InlineData("utf-16BE", true, "UTF-16 BE")]
    [InlineData("utf-16BE", false, "UTF-16 BE")]
    [InlineData("iso-8859-1", false, "Latin-1")]
    public void Encodings_are_told_apart(string name, bool mark, string shown)
    {
        Encoding encoding = Encoding.GetEncoding(name);
        string text = Plain.Replace("time (s)", "time (s),temperature (°C)").Replace("\n0,", "\n0,20,").Replace("\n1,", "\n1,20,")
            .Replace("\n2,", "\n2,21,")
            .Replace("\n3,", "\n3,21,").Replace("\n4,", "\n4,21,").Replace("\n5,", "\n5,22,");
        byte[] bytes = [.. mark ? encoding.GetPreamble() : [], .. encoding.GetBytes(text)];

        LogText.Read read = LogText.Of(bytes);

        Assert.Equal(shown, read.Layout.Dialect!.Encoding);
        AssertPlain(read);
        Assert.Equal(22, read.Samples[^1].TemperatureC);
        Assert.Equal(bytes.Length, read.Outcome.Bytes);
    }

    [Fact]
    public void A_packed_log_is_unpacked_on_the_way()
    {
        using var packed = new MemoryStream();
        using (var gzip = new GZipStream(packed, CompressionLevel.Fastest))
        {
            gzip.Write(Encoding.UTF8.GetBytes(Plain));
        }

        LogText.Read read = LogText.Of(packed.ToArray(), name: "log.csv.gz");

        AssertPlain(read);
        Assert.Equal(packed.ToArray().Length, read.Outcome.Bytes);
        Assert.Equal(Convert.ToHexStringLower(System.Security.Cryptography.SHA256.HashData(packed.ToArray())), read.Outcome.Sha256);
    }

    [Fact]
    public void Standard_input_is_read_twice_from_a_copy()
    {
        using var input = new MemoryStream(Encoding.UTF8.GetBytes(Plain));

        LogText.Read read = LogText.FromFile("-", new LogOptions { StandardInput = input });

        AssertPlain(read);
    }

    [Theory]
    [InlineData("t (s);U (V);I (A)\n0;1.234,5;0,5\n1;1.235,25;0,5\n2;1.236,75;0,5\n", 1234.5, 1236.75)]
    [InlineData("t (s);U (V);I (A)\n0;1,234.5;0.5\n1;1,235.25;0.5\n2;1,236.75;0.5\n", 1234.5, 1236.75)]
    [InlineData("t (s),U (V),I (A)\n0,\"1,234.5\",0.5\n1,\"1,235.25\",0.5\n2,\"1,236.75\",0.5\n", 1234.5, 1236.75)]
    [InlineData("t (s);U (V);I (A)\n0;1\u00A0234,5;0,5\n1;1\u00A0235,25;0,5\n2;1\u00A0236,75;0,5\n", 1234.5, 1236.75)]
    public void Thousands_separators_group_by_three(string text, double first, double last)
    {
        LogText.Read read = LogText.Of(text);

        Assert.Equal(first, read.Samples[0].VoltageV);
        Assert.Equal(last, read.Samples[^1].VoltageV);
        Assert.Empty(read.Outcome.Faults);
    }

    [Fact]
    public void A_comma_is_never_taken_for_a_decimal_point_in_a_point_file()
    {
        LogText.Read read = LogText.Of("t;U;I\n0;5.01;0.5\n1;5.02;0.5\n2;5,03;0.5\n3;5.04;0.5\n");

        Assert.True(double.IsNaN(read.Samples[2].VoltageV));
        Assert.Equal(1, Assert.Single(read.Outcome.Faults).Count);
    }

    private static void AssertPlain(LogText.Read read)
    {
        Assert.Equal([0.0, 1, 2, 3, 4, 5], read.Samples.Select(s => s.TimeS));
        Assert.Equal([5.01, 5.02, 5.03, 5.04, 5.05, 5.06], read.Samples.Select(s => s.VoltageV));
        Assert.Equal([0.5, 0.6, 0.75, 1.2345, 0.9, 0.8], read.Samples.Select(s => s.CurrentA));
        Assert.Equal(6, read.Outcome.Rows);
        Assert.Equal(0, read.Outcome.RowsSkipped);
        Assert.Equal(1, read.Layout.MedianIntervalS);
    }

    // More empty fields than bad rows are allowed, and fewer than one in five.
    [Theory]
    [InlineData(7)]
    [InlineData(15)]
    public void Fields_of_a_column_that_are_empty_now_and_then_are_no_fault(int every)
    {
        LogText.Read read = LogText.Of("t (s),P (W),T (°C)\n" + string.Concat(Enumerable.Range(0, 300)
            .Select(i => InvariantText.Of($"{i},7.5,{(i % every == 0 ? "" : "25.5")}\n"))));

        Assert.Empty(read.Outcome.Faults);
        Assert.Equal(300, read.Samples.Count(s => s.PowerW == 7.5));
    }
}
