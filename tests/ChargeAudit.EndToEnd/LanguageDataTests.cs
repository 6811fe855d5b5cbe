namespace ChargeAudit.EndToEnd;

/// <summary>
/// The answers do not depend on the system's language data, which a bare Linux lacks; the programs published for Linux do without it,
/// and any other copy does where the framework's own switch says so.
/// </summary>
public sealed class LanguageDataTests : IDisposable
{
    private readonly TemporaryFolder _folder = new();

    public void Dispose() => _folder.Dispose();

    [Fact]
    public void Every_command_gives_the_same_answer_without_the_system_s_language_data()
    {
        string program = Path.Combine(AppContext.BaseDirectory, "chargeaudit.dll");
        string[] writes = ["draft", "simulate", "bundle", "summarize"];
        foreach (var (command, arguments) in EveryCommand.In(_folder).Where(c => !writes.Contains(c.Command)))
        {
            var usual = Run.In(_folder.Path, arguments);
            var without = Run.Process(
                _folder.Path,
                "/usr/bin/env",
                ["DOTNET_SYSTEM_GLOBALIZATION_INVARIANT=1", "DOTNET_SYSTEM_GLOBALIZATION_PREDEFINED_CULTURES_ONLY=0", "dotnet", program,
                    .. arguments]);
            Assert.True(usual.Status is 0 or 2, $"{command}: {usual.Error}");
            Assert.True(usual.Output.Length > 40, command);
            Assert.Equal(usual, without);
        }
    }

    [Theory]
    [InlineData("LC_ALL=C")]
    [InlineData("LC_ALL=en_US.UTF-8")]
    [InlineData("LC_ALL=en_US.utf8")]
    public void What_is_written_begins_with_no_mark_wherever_it_is_written(string locale)
    {
        string program = Path.Combine(AppContext.BaseDirectory, "chargeaudit.dll");
        string file = _folder.Path + "/version.txt";
        var run = Run.Process(_folder.Path, "/usr/bin/env", [locale, "sh", "-c", $"dotnet '{program}' --version > '{file}'"]);
        Assert.Equal((0, ""), (run.Status, run.Error));
        Assert.Matches("^[0-9]+\\.[0-9]+\\.[0-9]+[^\\s]*\\n$", System.Text.Encoding.Latin1.GetString(File.ReadAllBytes(file)));
    }

    [Theory]
    [InlineData("linux-x64", "", "true")]
    [InlineData("linux-x64", "single-file", "true")]
    [InlineData("linux-musl-arm64", "", "true")]
    [InlineData("win-x64", "single-file", "")]
    [InlineData("osx-arm64", "single-file", "")]
    [InlineData("", "", "")]
    public void Only_what_is_published_for_Linux_does_without_language_data_by_itself(string platform, string profile, string expected)
    {
        var asked = Run.Process(
            Repository.Root,
            "dotnet", "msbuild", Path.Combine("src", "ChargeAudit.Cli"), $"-p:RuntimeIdentifier={platform}", $"-p:PublishProfile={profile}",
                "-getProperty:InvariantGlobalization");
        Assert.True(asked.Status == 0, asked.Output + asked.Error);
        Assert.Equal(expected, asked.Output.Trim());
    }
}
