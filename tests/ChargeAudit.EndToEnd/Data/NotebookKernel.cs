using System.Diagnostics;
using System.Globalization;
using System.Text;
using System.Text.Json;

namespace ChargeAudit.EndToEnd.Data;

/// <summary>The .NET kernel of notebooks, spoken to over its standard streams: one JSON document a line each way.</summary>
internal sealed class NotebookKernel : IDisposable
{
    private static readonly TimeSpan Patience = TimeSpan.FromMinutes(2);

    private readonly Process _process;
    private int _submitted;

    public NotebookKernel(string program, string folder)
    {
        var start = new ProcessStartInfo(program, ["stdio", "--default-kernel", "csharp"])
        {
            WorkingDirectory = folder,
            RedirectStandardInput = true,
            RedirectStandardOutput = true,
            StandardOutputEncoding = Encoding.UTF8,
        };
        start.Environment["DOTNET_INTERACTIVE_CLI_TELEMETRY_OPTOUT"] = "1";
        _process = Process.Start(start)!;
    }

    /// <summary>Runs a cell and gives what it printed.</summary>
    public string Submit(string code)
    {
        string token = (++_submitted).ToString(CultureInfo.InvariantCulture);
        _process.StandardInput.WriteLine(JsonSerializer.Serialize(new
        {
            token,
            commandType = "SubmitCode",
            command = new { code, targetKernelName = "csharp" },
        }));
        _process.StandardInput.Flush();
        var printed = new StringBuilder();
        while (true)
        {
            var line = _process.StandardOutput.ReadLineAsync();
            Assert.True(line.Wait(Patience), $"the kernel gave no answer to\n{code}");
            Assert.True(line.Result is not null, $"the kernel ended at\n{code}");
            if (!line.Result.StartsWith('{'))
            {
                continue;
            }

            var answer = JsonDocument.Parse(line.Result).RootElement;
            var what = answer.GetProperty("event");
            switch (answer.GetProperty("eventType").GetString())
            {
                case "StandardOutputValueProduced":
                    printed.Append(what.GetProperty("formattedValues")[0].GetProperty("value").GetString());
                    break;
                case "CommandFailed":
                    Assert.Fail($"{what.GetProperty("message").GetString()}\n{code}");
                    break;
                case "CommandSucceeded" when answer.GetProperty("command").GetProperty("token").GetString() == token:
                    return printed.ToString().ReplaceLineEndings("\n");
                default:
                    break;
            }
        }
    }

    public void Dispose()
    {
        if (!_process.HasExited)
        {
            _process.Kill(entireProcessTree: true);
        }

        _process.Dispose();
    }
}
