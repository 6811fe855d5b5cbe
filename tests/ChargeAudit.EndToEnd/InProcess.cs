using ChargeAudit.Cli;
using ChargeAudit.Cli.Hosting;

namespace ChargeAudit.EndToEnd;

/// <summary>The program in this process, with a world of the test's own around it.</summary>
internal static class InProcess
{
    public static async Task<Run> With(CliHost world, params string[] arguments)
    {
        using var output = new StringWriter { NewLine = "\n" };
        using var error = new StringWriter { NewLine = "\n" };
        int status = await ChargeAuditProgram.RunAsync(arguments, world with { Output = output, Error = error },
            TestContext.Current.CancellationToken);
        return new Run(status, output.ToString(), error.ToString());
    }

    public static CliHost World { get; } = new() { Output = TextWriter.Null, Error = TextWriter.Null };
}
