using System.Text;

namespace ChargeAudit.Cli.Hosting;

/// <summary>What the program has of the world around it; tests bring their own.</summary>
public sealed record CliHost
{
    /// <summary>Text for people, or one JSON document.</summary>
    public required TextWriter Output { get; init; }

    /// <summary>Progress and warnings.</summary>
    public required TextWriter Error { get; init; }

    /// <summary>Standard input; null where there is none.</summary>
    public Stream? Input { get; init; }

    /// <summary>Whether <see cref="Output"/> is a terminal that shows colours.</summary>
    public bool OutputIsTerminal { get; init; }

    /// <summary>Whether somebody reads <see cref="Output"/>: it goes to a terminal, with or without colours.</summary>
    public bool OutputIsPerson { get; init; }

    /// <summary>Whether <see cref="Error"/> is a terminal that can show progress.</summary>
    public bool ErrorIsTerminal { get; init; }

    /// <summary>Whether the interrupts of this process are the program's.</summary>
    public bool TakesInterrupts { get; init; }

    /// <summary>Columns of text that fit in a line.</summary>
    public int Width { get; init; } = 100;

    /// <summary>The clock.</summary>
    public TimeProvider Clock { get; init; } = TimeProvider.System;

    /// <summary>An environment variable's value; null where it is not set.</summary>
    public Func<string, string?> Variable { get; init; } = _ => null;

    /// <summary>The program's folder among the user's configuration; null where there is none. It need not exist.</summary>
    public string? ConfigurationFolder { get; init; }

    /// <summary>The host of a real process.</summary>
    public static CliHost OfProcess()
    {
        string configuration =
            Environment.GetFolderPath(Environment.SpecialFolder.ApplicationData, Environment.SpecialFolderOption.DoNotVerify);
        bool colours = !Console.IsOutputRedirected && string.IsNullOrEmpty(Environment.GetEnvironmentVariable("NO_COLOR"));
        return new CliHost
        {
            Output = new GuardedOutput(StandardOutput()),
            Error = new SilentError(Console.Error),
            Input = Console.OpenStandardInput(),
            OutputIsTerminal = colours,
            OutputIsPerson = !Console.IsOutputRedirected,
            ErrorIsTerminal = !Console.IsErrorRedirected,
            TakesInterrupts = true,
            Width = WidthOfTerminal(),
            Variable = Environment.GetEnvironmentVariable,
            ConfigurationFolder = configuration.Length > 0 ? Path.Combine(configuration, "chargeaudit") : null,
        };
    }

    // Console.Out prepares the terminal, even where the output goes to a file or another program.
    private static TextWriter StandardOutput()
    {
        if (!Console.IsOutputRedirected)
        {
            return Console.Out;
        }

        // Asked for by its name, UTF-8 begins with a mark.
        var named = Console.OutputEncoding;
        var encoding = named is UTF8Encoding ? new UTF8Encoding(encoderShouldEmitUTF8Identifier: false) : named;
        return TextWriter.Synchronized(new StreamWriter(Console.OpenStandardOutput(), encoding, bufferSize: 256) { AutoFlush = true });
    }

    private static int WidthOfTerminal()
    {
        const int otherwise = 100;
        if (int.TryParse(Environment.GetEnvironmentVariable("COLUMNS"), out int columns) && columns > 0)
        {
            return Math.Clamp(columns, 40, 200);
        }

        try
        {
            return Console.IsOutputRedirected ? otherwise : Math.Clamp(Console.WindowWidth, 40, 200);
        }
        catch (IOException)
        {
            return otherwise;
        }
    }
}
