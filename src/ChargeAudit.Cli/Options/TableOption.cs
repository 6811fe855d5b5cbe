using System.CommandLine;
using ChargeAudit.Metrology;
using ChargeAudit.Reports.Files;

namespace ChargeAudit.Cli.Options;

/// <summary><c>--tables</c>: in which formats tables are written.</summary>
internal sealed class TableOption
{
    public TableOption(string description)
    {
        string[] words = [.. Enum.GetValues<TableFormat>().Select(StableName.Of)];
        Option = new Option<string[]>("--tables") { Description = description, HelpName = string.Join('|', words) };
        Option.AcceptOnlyFromAmong(words);
    }

    /// <summary>The option; may be given several times.</summary>
    public Option<string[]> Option { get; }

    /// <summary>The formats that were asked for, each once.</summary>
    public IReadOnlyList<TableFormat> Of(ParseResult parse) =>
        [.. Enum.GetValues<TableFormat>().Where(f => (parse.GetValue(Option) ?? []).Contains(StableName.Of(f)))];
}
