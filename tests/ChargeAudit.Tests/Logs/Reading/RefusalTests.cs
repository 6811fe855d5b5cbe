using System.IO.Compression;
using System.Text;
using ChargeAudit.Logs;
using ChargeAudit.Logs.Reading;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;

namespace ChargeAudit.Tests.Logs.Reading;

/// <summary>Each sentence with which a log is refused.</summary>
public sealed class RefusalTests
{
    private const string Rows = "0,5,1\n1,5,1\n2,5,1\n";

    [Theory]
    [InlineData("", "log.csv is empty; a log with a header and rows of readings was expected.")]
    [InlineData("\n\n", "log.csv is empty; a log with a header and rows of readings was expected.")]
    [InlineData("t,U,I\n",
        "log.csv holds no rows of readings below its header; rows of numbers were expected there, so check that the log was exported "
        + "whole.")]
    [InlineData("once upon a time\nthere was no table\n",
        "log.csv holds no rows of readings that could be split into columns; a header and rows of numbers, separated by commas, "
        + "semicolons, tabs, | or blanks, were expected.")]
    [InlineData("a,U (V),I (A)\n" + Rows,
        "log.csv has no time column among \"a\", \"U (V)\", \"I (A)\"; say which column holds what and in which unit, as in columns = { "
        + "time = 1, voltage = { position = 2, unit = \"V\" }, current = { position = 3, unit = \"A\" } } at the meter in the study; or "
        + "give the fixed interval between rows as interval at the meter in the study.")]
    [InlineData("t,colour,weight\n" + Rows,
        "log.csv has no column of power, voltage and current, or an energy or charge counter among \"t\", \"colour\", \"weight\"; say "
        + "which column holds what and in which unit; were the power in column 2, by columns = { time = 1, power = { position = 2, unit = "
        + "\"W\" } } at the meter in the study.")]
    [InlineData("t,U (V),temperature\n" + Rows,
        "log.csv has no column of power, voltage and current, or an energy or charge counter among \"t\", \"U (V)\", \"temperature\"; "
        + "export power, or the current beside the voltage, as well.")]
    [InlineData(Rows,
        "log.csv has 3 columns and no header that names them; say which column holds what and in which unit; were the power in column 2, "
        + "by columns = { time = 1, power = { position = 2, unit = \"W\" } } at the meter in the study.")]
    [InlineData("t,U,I\n" + Rows + "U,I,t\n5,1,3\n",
        "log.csv, line 5: a header with other columns follows (\"U,I,t\"), and one table with the same columns was expected; split the "
        + "file there.")]
    public void A_log_that_cannot_be_understood_is_refused(string text, string sentence) => AssertRefused(sentence, () => LogText.Of(text));

    [Theory]
    [InlineData("time,P L1 (W),P L2 (W),P L3 (W)\n0,1,2,3\n1,2,3,4\n2,1,2,3\n",
        "log.csv holds several phases, \"P L1 (W)\", \"P L2 (W)\", \"P L3 (W)\"", "'time,power[W]'")]
    [InlineData("Дата;Время;Мощность\n17.05.2031;18:30:00;5\n17.05.2031;18:30:01;6\n17.05.2031;18:30:02;5\n",
        "log.csv has no column of power", "'date,clock,power[W]'")]
    [InlineData("Ora,Tensiune,Curent\n2031-05-17T18:30:00,5.1,1\n2031-05-17T18:30:01,5.1,1.1\n2031-05-17T18:30:02,5.1,1\n",
        "log.csv has no column of power", "'time,?,?', with power[W], voltage[V], current[A] or - in place of each ?")]
    [InlineData("Datum;Uhrzeit;Blindleistung\n17.05.2031;18:30:00;5\n17.05.2031;18:30:01;6\n17.05.2031;18:30:02;5\n",
        "log.csv has no column of power", null)]
    [InlineData("sample,power (W)\n0,5\n1,6\n2,5\n", "give the fixed interval between rows", null)]
    [InlineData("time,power (W/min)\n0,5\n1,6\n2,5\n", "log.csv: the unit \"W/min\" of column \"power (W/min)\" is not known", null)]
    [InlineData("{\"result\": [{\"values\": [[1936000000, \"0.314\"], [1936000010, \"0.316\"]]}]}\n",
        "log.csv is JSON but holds no records", null)]
    public void What_cannot_be_told_is_not_filled_in(string text, string says, string? option)
    {
        InputException refused = Assert.Throws<InputException>(() => LogText.Of(text));

        Assert.Contains(says, refused.Message, StringComparison.Ordinal);
        Assert.Equal(option, refused.RemedyValue);
    }

    [Fact]
    public void A_missing_file_is_named() =>
        AssertRefused("no-such.csv: there is no such file; check the name and the folder.", () => LogText.FromFile("no-such.csv"),
        InputProblem.Missing);

    [Fact]
    public void A_folder_is_no_log()
    {
        string folder = Path.GetTempPath();

        AssertRefused($"{folder} is a folder, and a log file was expected; name the files in it.", () => LogText.FromFile(folder),
            InputProblem.Missing);
    }

    [Fact]
    public void A_log_that_grows_while_it_is_read_is_refused()
    {
        string path = Path.GetTempFileName();
        try
        {
            File.WriteAllText(path, "t (s),U (V),I (A)\n" + Rows);
            var options = new LogOptions();
            var layout = LogReader.Inspect(path, options);

            AssertRefused($"{path} was changed while it was read; wait until the meter has finished writing it and start again.", () =>
            {
                var meter = new StillWriting(path);
                LogReader.ReadInto(path, layout, options, ref meter, null, TestContext.Current.CancellationToken);
            });
        }
        finally
        {
            File.Delete(path);
        }
    }

    private readonly record struct StillWriting(string Path) : ISampleSink
    {
        public void Add(in Sample sample) => File.AppendAllText(Path, "9,5,1\n");
    }

    [Fact]
    public void Standard_input_must_be_connected() =>
        AssertRefused("A log was expected on standard input, and none is connected; pipe one in, or name a file.",
            () => LogText.FromFile("-"), InputProblem.Usage);

    [Fact]
    public void A_binary_file_is_no_log()
    {
        byte[] bytes = [0x7F, (byte)'E', (byte)'L', (byte)'F', .. Enumerable.Range(0, 4000).Select(i => (byte)(((i * 7919) >> 3) & 0xFF))];

        AssertRefused("log.csv is not a text table: it holds bytes that no text has; export the log as CSV and name that file.",
            () => LogText.Of(bytes));
    }

    [Fact]
    public void An_Arrow_file_is_refused_with_what_to_write_instead() =>
        AssertRefused(
            "log.feather is an Arrow IPC file (Feather), which is not read; write the same table as Parquet or CSV and name that file.",
            () => LogText.Of([.. "ARROW1\0\0"u8, 0xFF, 0xFF, 0xFF, 0xFF, .. new byte[200]], name: "log.feather"));

    [Fact]
    public void A_log_with_a_power_and_no_time_is_read_with_an_interval()
    {
        const string text = "power (W),level (%)\n4,20\n5,21\n6,22\n";

        InputException refused = Assert.Throws<InputException>(() => LogText.Of(text));

        Assert.EndsWith("give the fixed interval between rows, in seconds, as interval at the meter in the study, or export the times as "
            + "well.", refused.Message, StringComparison.Ordinal);
        Assert.Equal(Remedy.Interval, refused.Remedy);
        Assert.Equal([0.0, 10, 20], LogText.Of(text, new LogOptions { FixedIntervalS = 10 }).Samples.Select(s => s.TimeS));
    }

    [Fact]
    public void A_damaged_packed_file_is_refused()
    {
        byte[] bytes = [0x1F, 0x8B, 8, 0, 0, 0, 0, 0, 0, 3, 0xFF, 0xFF, 0xFF, 1, 2, 3];

        InputException refused = Assert.Throws<InputException>(() => LogText.Of(bytes));

        Assert.Contains("log.csv begins as gzip but cannot be unpacked (", refused.Message, StringComparison.Ordinal);
        Assert.EndsWith("copy or export it again.", refused.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_gzip_bomb_is_refused()
    {
        using var packed = new MemoryStream();
        using (var gzip = new GZipStream(packed, CompressionLevel.Optimal))
        {
            gzip.Write("t,U,I\n0,5,1\n1,5,1\n2,5,1\n"u8);
            byte[] lines = Encoding.ASCII.GetBytes(new string('\n', 1 << 20));
            for (int i = 0; i < 100; i++)
            {
                gzip.Write(lines);
            }
        }

        AssertRefused("log.csv.gz unpacks to more than 500 times its size, which no log does; unpack it yourself and check what it holds.",
            () => LogText.Of(packed.ToArray(), name: "log.csv.gz"));
    }

    [Fact]
    public void A_first_line_without_end_and_a_million_columns_are_refused()
    {
        const string Sentence =
            "log.csv, line 1 is longer than 65536 bytes, and a row of readings was expected; check that the file is a log.";
        AssertRefused(Sentence, () => LogText.Of(new string('7', 1 << 20)));
        AssertRefused(Sentence, () => LogText.Of(string.Join(',', Enumerable.Range(0, 1_000_000)) + "\n"));
    }

    [Theory]
    [InlineData(0)]
    [InlineData(400_000)]
    public void An_endless_line_is_refused_without_reading_it_all(int rowsBefore)
    {
        string folder = Directory.CreateTempSubdirectory("chargeaudit-").FullName;
        string path = Path.Combine(folder, "log.csv");
        try
        {
            using (var file = new StreamWriter(path))
            {
                file.Write("t,U,I\n0,5,1\n1,5,1\n2,5,1\n");
                for (int i = 0; i < rowsBefore; i++)
                {
                    file.Write($"{i + 3},5,1\n");
                }

                file.Write(new string('7', 3 << 20));
            }

            AssertRefused(
                $"log.csv, line {rowsBefore + 5} is longer than 1048576 bytes, and a row of readings was expected; check that the file "
                + "is a log.", () => LogText.FromFile(path));
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    [Fact]
    public void A_table_of_a_million_columns_is_refused() =>
        AssertRefused(
            "log.csv, line 1 holds 60001 fields, and at most 4096 were expected; check that the file is a log.",
            () => LogText.Of(new string(',', 60_000) + "\n" + Rows));

    [Fact]
    public void A_clock_that_stands_still_is_refused()
    {
        string rows = string.Concat(Enumerable.Range(0, 4000).Select(i => $"{i / 4},5,1\n"))
            + string.Concat(Enumerable.Repeat("1000,5,1\n", 70_000));

        AssertRefused(
            "log.csv, line 69538: more than 65536 rows carry one and the same time, and times that go on were expected; the clock of the "
                + "meter stood still.",
            () => LogText.Of("t (s),U,I\n" + rows));
    }

    [Theory]
    [InlineData(LogQuantity.Power, "P", null, null,
        "log.csv has no column \"P\"; it has \"t\", \"U\", \"I\"; say which column holds what and in which unit, as in columns = { time = "
        + "1, voltage = { position = 2, unit = \"V\" }, current = { position = 3, unit = \"A\" } } at the meter in the study.")]
    [InlineData(LogQuantity.Power, null, 4, null,
        "log.csv has no column 4; it has \"t\", \"U\", \"I\"; say which column holds what and in which unit, as in columns = { time = 1, "
        + "voltage = { position = 2, unit = \"V\" }, current = { position = 3, unit = \"A\" } } at the meter in the study.")]
    [InlineData(LogQuantity.Power, "U", null, "Watz",
        "log.csv: the unit \"Watz\" of column \"U\" is not known; use a symbol such as V, mA, W, Wh or mAh.")]
    [InlineData(LogQuantity.Power, "U", null, "mA",
        "log.csv: column \"U\" was given as power in mA, which is no unit of power; name the quantity that the column holds, or its unit.")]
    public void A_wrong_choice_of_columns_is_refused(LogQuantity quantity, string? header, int? position, string? unit, string sentence)
    {
        var options = new LogOptions { Columns = new Dictionary<LogQuantity, ColumnChoice> { [quantity] = new(header, position, unit) } };

        AssertRefused(sentence, () => LogText.Of("t,U,I\n" + Rows, options));
    }

    [Fact]
    public void A_time_column_of_words_is_refused()
    {
        var options = new LogOptions
        {
            Columns = new Dictionary<LogQuantity, ColumnChoice> { [LogQuantity.Time] = new("name", null, null) },
        };

        AssertRefused(
            "log.csv: the time column \"name\" holds \"one\", which is no date, clock time or number; name another column with columns at "
                + "the meter in the study, or export times as 2031-05-07T18:30:00.",
            () => LogText.Of("name,U,I\none,5,1\ntwo,5,1\nthree,5,1\n", options));
    }

    [Theory]
    [InlineData("t (s),voltage (V),voltage B (V),I (A)\n0,5,9,1\n1,5,9,1\n",
        "Column \"voltage (V)\" was taken for voltage, not \"voltage B (V)\"")]
    [InlineData("t (s),voltage (mA),U (V)\n0,5,9\n1,5,9\n",
        "Column \"voltage (mA)\" is named as one quantity and carries the unit of another; the unit was believed")]
    [InlineData("time,U (V),I (A)\n0,5,9\n1000,5,9\n2000,5,9\n",
        "Column \"time\" has no unit and steps of 1000; they were taken for milliseconds, not seconds")]
    [InlineData("t (s);U (V);I (A)\n0;5,021;1,005\n1;5,022;1,004\n2;5,021;1,005\n",
        "\"5,021\" was read with a decimal comma, since no number of the file carries a point")]
    public void A_choice_between_two_readings_is_told_and_under_strict_refused(string text, string note)
    {
        LogText.Read read = LogText.Of(text);

        Assert.Contains(read.Layout.Notes, n => n.StartsWith(note, StringComparison.Ordinal));
        InputException refused = Assert.Throws<InputException>(() => LogText.Of(text, new LogOptions { Strict = true }));
        Assert.Contains($"log.csv: {note}", refused.Message, StringComparison.Ordinal);
        Assert.EndsWith(", and under strict reading nothing is guessed; name the columns and units with columns at the meter in the study.",
            refused.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_file_without_permission_is_refused()
    {
        string path = Path.GetTempFileName();
        try
        {
            using var held = new FileStream(path, FileMode.Open, FileAccess.ReadWrite, FileShare.None);
            InputException refused = Assert.Throws<InputException>(() => LogText.FromFile(path));

            Assert.Equal(InputProblem.Missing, refused.Problem);
            Assert.StartsWith($"{path} cannot be read (", refused.Message, StringComparison.Ordinal);
            Assert.EndsWith("check that you may open it.", refused.Message, StringComparison.Ordinal);
        }
        finally
        {
            File.Delete(path);
        }
    }

    [Fact]
    public void Raw_text_in_a_sentence_is_cut_and_its_control_characters_are_shown()
    {
        string quoted = LogErrors.Quote("a\tb\u0001\u202E" + new string('x', 500));

        Assert.Equal("\"a\\tb\\u0001\\u202E" + new string('x', 44) + "…\"", quoted);
    }

    private static void AssertRefused(string sentence, Action read, InputProblem problem = InputProblem.Unusable)
    {
        InputException refused = Assert.Throws<InputException>(read);
        Assert.EndsWith(sentence, refused.Message, StringComparison.Ordinal);
        Assert.Equal(problem, refused.Problem);
        Assert.DoesNotContain('\n', refused.Message);
    }
}
