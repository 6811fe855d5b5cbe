using ChargeAudit.Comparing.Auditing;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Studies;

namespace ChargeAudit.Tests.Studies;

/// <summary>What a study, or a log's own column, says about the room and the adapter of a run.</summary>
public sealed class RunSurroundingsTests
{
    [Theory]
    [InlineData("23 °C", 23)]
    [InlineData("-4.5 °C", -4.5)]
    [InlineData("21degC", 21)]
    public void The_temperature_of_a_run_is_read_with_its_unit(string text, double celsius) =>
        Assert.Equal(celsius, StudyReader.Read("study.toml", Text($"temperature = \"{text}\""), "here").Runs[0].TemperatureC);

    [Theory]
    [InlineData("23")]
    [InlineData("200 °C")]
    public void Another_unit_none_or_no_room_is_refused_with_its_line(string text)
    {
        var error = Assert.Throws<InputException>(() => StudyReader.Read("study.toml", Text($"temperature = \"{text}\""), "here"));
        Assert.Contains("study.toml, line 6", error.Message, StringComparison.Ordinal);
        Assert.Contains("\"23 °C\"", error.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void The_adapter_of_a_run_is_read_and_nothing_is_made_up_where_none_is_given()
    {
        Assert.Equal("A20 (invented)", StudyReader.Read("study.toml", Text("adapter = \"A20 (invented)\""), "here").Runs[0].Adapter);
        var bare = StudyReader.Read("study.toml", Text(""), "here").Runs[0];
        Assert.Equal((null, null), (bare.Adapter, bare.TemperatureC));
    }

    [Theory]
    [InlineData("", 24.5)]
    [InlineData("temperature = \"22 °C\"", 22)]
    public void The_mean_of_a_logs_temperature_column_stands_in_where_the_study_says_nothing(string line, double celsius)
    {
        string folder = Path.Combine(Path.GetTempPath(), $"chargeaudit-warm-{Guid.NewGuid():N}");
        Directory.CreateDirectory(folder);
        try
        {
            // 24 °C and 25 °C in turn.
            var rows = Enumerable.Range(0, 3600).Select(t => InvariantText.Of($"{t},{(t < 3000 ? 8 : 0.3):F1},{24 + (t % 2)}"));
            File.WriteAllLines(Path.Combine(folder, "a.csv"), rows.Prepend("Time (s),Power (W),Temperature (°C)"));
            string study = Path.Combine(folder, "study.toml");
            File.WriteAllText(study, Text(line));
            var audit =
                Auditor.Run(StudyReader.Load(study),
                new AuditOptions { ProgramVersion = "", CommandLine = "", StudyFile = study, Clock = TimeProvider.System },
                TestContext.Current.CancellationToken);
            Assert.Equal(celsius, audit.Methods[0].Runs[0].TemperatureC!.Value, 9);
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    private static string Text(string line) => $$"""
        [methods.cable]
        kind = "wired"
        [[runs]]
        method = "cable"
        logs = { usb = "a.csv" }
        {{line}}
        """;
}
