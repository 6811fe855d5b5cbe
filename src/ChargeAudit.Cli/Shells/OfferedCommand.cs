using System.CommandLine;
using System.CommandLine.Completions;
using System.CommandLine.Help;

namespace ChargeAudit.Cli.Shells;

/// <summary>An option as a shell offers it.</summary>
/// <param name="Name">With its dashes.</param>
/// <param name="Description">What it is for, on one line.</param>
/// <param name="Value">What its value is called; null where it takes none.</param>
/// <param name="Words">The words that its value may be; empty where it may be anything, such as a file's name.</param>
internal sealed record OfferedOption(string Name, string Description, string? Value, IReadOnlyList<string> Words);

/// <summary>A command as a shell offers it, from the program's own tree.</summary>
/// <param name="Name">Its name.</param>
/// <param name="Description">What it does, on one line.</param>
/// <param name="Options">Its options.</param>
/// <param name="Words">The words that its argument may be; empty where it may be anything.</param>
/// <param name="Argument">What its argument is called; null where it takes none.</param>
internal sealed record OfferedCommand(
    string Name, string Description, IReadOnlyList<OfferedOption> Options, IReadOnlyList<string> Words, string? Argument)
{
    /// <summary>The commands of the program.</summary>
    public static IReadOnlyList<OfferedCommand> Of(RootCommand root) =>
        [.. root.Subcommands.Where(c => !c.Hidden).Select(c => Of(c, OptionsOf(c, root)))];

    /// <summary>A command's own options and those that every command has.</summary>
    public static IEnumerable<Option> OptionsOf(Command command, RootCommand root) =>
        command.Options.Concat(root.Options.Where(o => o.Recursive)).Where(o => !o.Hidden && o is not HelpOption).Distinct();

    private static OfferedCommand Of(Command command, IEnumerable<Option> options) => new(
        command.Name,
        OneLine(command.Description),
        [.. options.Select(Of),
            new OfferedOption("--help", "show options and examples", null, [])],
        [.. command.Arguments.SelectMany(WordsOf)],
        command.Arguments.Count > 0 ? command.Arguments[0].Name : null);

    private static OfferedOption Of(Option option)
    {
        bool takesValue = option.ValueType != typeof(bool);
        return new OfferedOption(option.Name, OneLine(option.Description), takesValue ? option.HelpName ?? "VALUE" : null,
            takesValue ? WordsOf(option) : []);
    }

    private static List<string> WordsOf(Symbol symbol) =>
        [.. symbol.GetCompletions(CompletionContext.Empty).Select(c => c.InsertText ?? c.Label)];

    private static string OneLine(string? text) => (text ?? "").ReplaceLineEndings(" ");
}
