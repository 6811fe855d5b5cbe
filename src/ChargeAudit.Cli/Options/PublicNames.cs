using ChargeAudit.Logs;
using ChargeAudit.Studies;

namespace ChargeAudit.Cli.Options;

/// <summary>
/// What part of a path may appear in a report that somebody publishes: never where on a machine its owner keeps files. A path below the
/// current folder is shown from there; any other absolute path is shown by its last part.
/// </summary>
internal static class PublicNames
{
    /// <summary>One argument of the command line, or a path.</summary>
    /// <param name="argument">The argument; what follows an equals sign is looked at too.</param>
    public static string Of(string argument)
    {
        int at = argument.IndexOf('=', StringComparison.Ordinal);
        return System.IO.Path.IsPathRooted(argument) ? Path(argument)
            : at > 0 && System.IO.Path.IsPathRooted(argument[(at + 1)..]) ? $"{argument[..(at + 1)]}{Path(argument[(at + 1)..])}"
            : argument;
    }

    /// <summary>A study whose logs have names that may be published.</summary>
    /// <param name="study">The study.</param>
    public static Study Of(Study study) => study with
    {
        Runs = [.. study.Runs.Select(r => r with { Logs = Named(r.Logs) })],
        Standby = [.. study.Standby.Select(s => s with { Logs = Named(s.Logs) })],
    };

    private static Dictionary<MeasuringPoint, LogReference> Named(IReadOnlyDictionary<MeasuringPoint, LogReference> logs) =>
        logs.ToDictionary(l => l.Key, l => l.Value.Names is null && l.Value.Files.Any(System.IO.Path.IsPathRooted)
            ? l.Value with { Names = [.. l.Value.Files.Select(Of)] }
            : l.Value);

    private static string Path(string rooted)
    {
        string below = System.IO.Path.GetRelativePath(Environment.CurrentDirectory, rooted);
        return below.StartsWith("..", StringComparison.Ordinal) || System.IO.Path.IsPathRooted(below)
            ? System.IO.Path.GetFileName(System.IO.Path.TrimEndingDirectorySeparator(rooted))
            : below;
    }
}
