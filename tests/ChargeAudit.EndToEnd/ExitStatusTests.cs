namespace ChargeAudit.EndToEnd;

/// <summary>Every way to end, each with one clear sentence on standard error.</summary>
public sealed class ExitStatusTests : IDisposable
{
    private const string Good =
        "Elapsed (s),U (V),I (A)\n0,5.0,1.0\n1,5.0,1.0\n2,5.0,1.0\n3,5.0,1.0\n4,5.0,1.0\n5,5.0,1.0\n6,5.0,1.0\n7,5.0,1.0\n8,5.0,1.0\n"
        + "9,5.0,1.0\n"
        + "10,5.0,1.0\n11,5.0,1.0\n12,5.0,1.0\n13,5.0,1.0\n14,5.0,1.0\n15,5.0,1.0\n16,5.0,1.0\n17,5.0,1.0\n18,5.0,1.0\n19,5.0,1.0\n"
            + "20,5.0,1.0\n21,5.0,1.0\n22,5.0,1.0\n";

    private readonly TemporaryFolder _folder = new();

    public void Dispose() => _folder.Dispose();

    [Fact]
    public void A_good_log_is_done_with_0()
    {
        var run = Run.Apart(_folder.Path, "measure", _folder.File("good.csv", Good), "--format", "json");
        Assert.Equal((0, ""), (run.Status, run.Error));
        Assert.Equal(22 * 5.0 / 3600, run.Json.GetProperty("logs")[0].GetProperty("energy").GetProperty("value").GetDouble(), 1e-12);
    }

    [Fact]
    public void A_bad_line_is_a_counted_fault_with_its_line_and_0()
    {
        string log = _folder.File("bad.csv", Good.Replace("\n9,5.0,1.0\n", "\n9,five,1.0\n", StringComparison.Ordinal));
        var run = Run.In(_folder.Path, "measure", log, "--format", "json");
        Assert.Equal(0, run.Status);
        var fault = Assert.Single(run.Json.GetProperty("logs")[0].GetProperty("faults").EnumerateArray());
        Assert.Equal(("unreadable-field", 11, 1),
            (fault.GetProperty("kind").GetString(), fault.GetProperty("line").GetInt32(), fault.GetProperty("count").GetInt32()));
    }

    [Fact]
    public void Under_strict_the_same_bad_line_refuses_the_log()
    {
        string log = _folder.File("bad.csv", Good.Replace("\n9,5.0,1.0\n", "\n9,five,1.0\n", StringComparison.Ordinal));
        OneSentence(Run.In(_folder.Path, "measure", log, "--strict"), 65, "line 11");
    }

    [Fact]
    public void An_empty_file_is_refused() =>
        OneSentence(Run.Apart(_folder.Path, "measure", _folder.File("empty.csv", "")), 65, "empty.csv");

    [Fact]
    public void A_binary_file_is_refused()
    {
        byte[] bytes = [.. Enumerable.Range(0, 4000).Select(i => (byte)(i * 7919 % 256))];
        OneSentence(Run.In(_folder.Path, "measure", _folder.File("binary.csv", bytes)), 65, "binary.csv");
    }

    [Fact]
    public void A_file_with_no_time_is_refused() =>
        OneSentence(Run.In(_folder.Path, "measure", _folder.File("no-time.csv", "U (V),I (A)\n5.0,1.2\n5.1,1.3\n5.0,1.1\n")), 65, "time");

    [Fact]
    public void A_file_with_no_usable_quantity_is_refused() =>
        OneSentence(Run.In(_folder.Path, "measure", _folder.File("no-power.csv", "Elapsed (s),Humidity\n0,40\n1,41\n2,42\n")), 65,
            "no-power.csv");

    [Fact]
    public void Volts_times_amperes_are_no_energy_at_the_wall() =>
        OneSentence(Run.In(_folder.Path, "measure", "--point", "wall", _folder.File("mains.csv", Good)), 65, "apparent power");

    [Fact]
    public void Mains_are_noticed_where_nobody_named_the_point() =>
        OneSentence(Run.In(_folder.Path, "measure", _folder.File("mains.csv", Good.Replace(",5.0,", ",230.0,", StringComparison.Ordinal))),
            65, "apparent power");

    [Fact]
    public void A_missing_file_is_66() => OneSentence(Run.Apart(_folder.Path, "measure", "no-such.csv"), 66, "no-such.csv");

    [Fact]
    public void A_directory_is_66()
    {
        Directory.CreateDirectory(Path.Combine(_folder.Path, "logs"));
        OneSentence(Run.In(_folder.Path, "measure", "logs"), 66, "logs");
    }

    [Fact]
    public void A_missing_study_is_66() => OneSentence(Run.In(_folder.Path, "audit", "no-such.toml"), 66, "no-such.toml");

    [Fact]
    public void A_study_with_an_unknown_key_is_65_and_names_the_nearest() =>
        OneSentence(
            Run.In(_folder.Path, "audit",
            _folder.File("study.toml",
            "titel = \"x\"\n[methods.cable]\nkind = \"wired\"\n[[runs]]\nmethod = \"cable\"\nlogs = { usb = \"a.csv\" }\n")), 65,
            "\"title\"");

    [Theory]
    [InlineData("measure")]
    [InlineData("mesure", "a.csv")]
    [InlineData("measure", "a.csv", "--fromat", "json")]
    [InlineData("measure", "a.csv", "--format", "yaml")]
    [InlineData("measure", "a.csv", "--columns", "time,volts")]
    [InlineData("audit")]
    [InlineData("audit", "--wired", "a.csv")]
    [InlineData("audit", "--wired", "a.csv", "--inductive", "b.csv", "--price", "0,30")]
    [InlineData("audit", "--wired", "a.csv", "--inductive", "b.csv", "--price", "0.30")]
    [InlineData]
    public void Wrong_usage_is_64(params string[] arguments) => OneSentence(Run.In(_folder.Path, arguments), 64, "");

    [Fact]
    public void Wrong_usage_is_64_to_whoever_called_the_program() => OneSentence(Run.Apart(_folder.Path, "measure"), 64, "");

    [Fact]
    public void A_report_that_cannot_be_written_is_73()
    {
        string study = _folder.SampleLogs();
        string blocked = _folder.File("blocked", "a file where a folder should be");
        OneSentence(Run.Apart(_folder.Path, "audit", study, "--out", blocked), 73, "blocked");
    }

    [Theory]
    [InlineData(66, "measure", "no-such.csv")]
    [InlineData(64, "measure", "a.csv", "--point", "socket")]
    public void With_json_even_a_failure_is_one_document(int status, params string[] arguments)
    {
        var run = Run.In(_folder.Path, [.. arguments, "--format", "json"]);
        Assert.Equal(status, run.Status);
        Assert.Equal(status, run.Json.GetProperty("error").GetProperty("status").GetInt32());
        Assert.NotEmpty(run.Json.GetProperty("error").GetProperty("message").GetString()!);
        ResultsSchema.Holds(run.Json);
    }

    private static void OneSentence(Run run, int status, string mentions)
    {
        Assert.Equal((status, ""), (run.Status, run.Output));
        Assert.StartsWith("chargeaudit: ", run.Error, StringComparison.Ordinal);
        Assert.Contains(mentions, run.Error, StringComparison.Ordinal);
        Assert.Single(run.Error.TrimEnd('\n').Split('\n'));
        Assert.DoesNotContain("   at ", run.Error, StringComparison.Ordinal);
    }
}
