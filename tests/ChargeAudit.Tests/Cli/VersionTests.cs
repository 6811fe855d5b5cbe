using ChargeAudit.Cli;
using ChargeAudit.Cli.Hosting;

namespace ChargeAudit.Tests.Cli;

/// <summary><c>--version</c> is answered before the commands are built, because the program starts faster that way.</summary>
public sealed class VersionTests
{
    [Fact]
    public async Task The_version_stands_alone_on_standard_output()
    {
        using var output = new StringWriter();
        using var error = new StringWriter();
        var host = new CliHost { Output = output, Error = error };
        Assert.Equal(0, await ChargeAuditProgram.RunAsync(["--version"], host, TestContext.Current.CancellationToken));
        Assert.Matches(@"^\d+\.\d+\.\d+[^\s]*\r?\n$", output.ToString());
        Assert.StartsWith(ProgramVersion.Text, output.ToString(), StringComparison.Ordinal);
        Assert.Empty(error.ToString());
    }
}
