using System.Diagnostics;
using System.Globalization;
using System.Text.Json;

namespace ChargeAudit.EndToEnd;

/// <summary>
/// One run of the program. Most take place in this process, as starting one costs ten times what the work does; what only a process of its
/// own shows (its streams, its exit status, its signals) is run apart.
/// </summary>
internal sealed record Run(int Status, string Output, string Error)
{
    public JsonElement Json => JsonDocument.Parse(Output).RootElement;

    // The current folder is the whole process's.
    private static readonly Lock OneAtATime = new();

    public static Run Of(params string[] arguments) => In(AppContext.BaseDirectory, arguments);

    /// <summary>In this process, with a folder as the current one; one run at a time.</summary>
    public static Run In(string folder, params string[] arguments)
    {
        using var input = new MemoryStream();
        lock (OneAtATime)
        {
            string before = Environment.CurrentDirectory;
            Environment.CurrentDirectory = folder;
            try
            {
                // Away from the test's own context, which would wait for this.
                return Task.Run(() => InProcess.With(InProcess.World with { Input = input }, arguments)).GetAwaiter().GetResult();
            }
            finally
            {
                Environment.CurrentDirectory = before;
            }
        }
    }

    /// <summary>Starts a process, which inherits the current folder, while no run has changed that folder to one that will be
    /// gone.</summary>
    public static T Undisturbed<T>(Func<Task<T>> start)
    {
        lock (OneAtATime)
        {
            return Task.Run(start).GetAwaiter().GetResult();
        }
    }

    /// <summary>How to start the program as a process that hears interrupts: whoever started the tests may have told its children to
    /// ignore them.</summary>
    /// <param name="arguments">Its arguments.</param>
    public static ProcessStartInfo Interruptible(params string[] arguments)
    {
        string[] program = ["dotnet", Path.Combine(AppContext.BaseDirectory, "chargeaudit.dll"), .. arguments];
        string[] all = OperatingSystem.IsLinux() ? ["/usr/bin/env", "--default-signal=INT,HUP,TERM", .. program] : program;
        return new ProcessStartInfo(all[0], all[1..])
        {
            WorkingDirectory = AppContext.BaseDirectory,
            RedirectStandardOutput = true,
            RedirectStandardError = true,
        };
    }

    /// <summary>As a process of its own.</summary>
    public static Run Apart(string folder, params string[] arguments) => With(folder, null, arguments);

    /// <summary>As a process of its own that reads from its input.</summary>
    public static Run With(string folder, string? input, params string[] arguments) =>
        Started(folder, input, "dotnet", [Path.Combine(AppContext.BaseDirectory, "chargeaudit.dll"), .. arguments]);

    /// <summary>As on a terminal this many columns wide.</summary>
    public static Run Wide(int columns, string folder, params string[] arguments) =>
        Started(folder, null, "dotnet", [Path.Combine(AppContext.BaseDirectory, "chargeaudit.dll"), .. arguments], columns);

    /// <summary>Any other program.</summary>
    public static Run Process(string folder, string program, params string[] arguments) => Started(folder, null, program, arguments);

    private static Run Started(string folder, string? input, string program, string[] arguments, int? columns = null)
    {
        var start = new ProcessStartInfo(program)
        {
            WorkingDirectory = folder,
            RedirectStandardOutput = true,
            RedirectStandardError = true,
            RedirectStandardInput = true,
            StandardOutputEncoding = System.Text.Encoding.UTF8,
            StandardErrorEncoding = System.Text.Encoding.UTF8,
        };
        foreach (string argument in arguments)
        {
            start.ArgumentList.Add(argument);
        }

        if (columns is { } wide)
        {
            start.Environment["COLUMNS"] = wide.ToString(CultureInfo.InvariantCulture);
        }

        using var process = System.Diagnostics.Process.Start(start)!;
        var output = process.StandardOutput.ReadToEndAsync();
        var error = process.StandardError.ReadToEndAsync();
        process.StandardInput.Write(input ?? "");
        process.StandardInput.Close();
        if (!process.WaitForExit(TimeSpan.FromMinutes(4)))
        {
            process.Kill(entireProcessTree: true);
            throw new TimeoutException($"{program} {string.Join(' ', arguments)} did not end");
        }

        return new Run(process.ExitCode, output.GetAwaiter().GetResult(), error.GetAwaiter().GetResult());
    }
}
