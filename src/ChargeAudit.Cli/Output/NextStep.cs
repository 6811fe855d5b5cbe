using ChargeAudit.Cli.Hosting;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;

namespace ChargeAudit.Cli.Output;

/// <summary>Says on a terminal which command comes next; where output is piped, nobody reads it, and nothing is said.</summary>
internal static class NextStep
{
    public static void Say(CliHost host, bool quiet, string sentence)
    {
        if (host.ErrorIsTerminal && !quiet)
        {
            host.Error.WriteLine($"Next: {VisibleText.Of(WrittenMarks.Shown(sentence))}");
        }
    }

    /// <summary>A name as a shell takes it.</summary>
    public static string Quoted(string name) =>
        name.Length > 0 && name.All(c => char.IsLetterOrDigit(c) || c is '/' or '\\' or '.' or '-' or '_' or ':') ? name : $"\"{name}\"";
}
