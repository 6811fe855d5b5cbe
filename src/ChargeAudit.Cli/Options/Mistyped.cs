using System.CommandLine;
using System.CommandLine.Parsing;
using System.Globalization;
using ChargeAudit.Metrology.Diagnostics;

namespace ChargeAudit.Cli.Options;

/// <summary>What is wrong with a command line, in one sentence that blames the right word and says what was probably meant.</summary>
internal static class Mistyped
{
    // Where two words are one letter apart the shorter of them is not a mistake of the other.
    private const int LeastLetters = 3;

    /// <summary>The sentence, without the program's name.</summary>
    /// <param name="parse">A command line that could not be read.</param>
    /// <param name="args">Its words.</param>
    public static string Sentence(ParseResult parse, IReadOnlyList<string> args)
    {
        var command = parse.CommandResult.Command;
        return command is RootCommand root
            ? NoCommand(root, args)
            : UnknownOption(parse, command) ?? UnknownWord(parse) ?? NoValue(parse, command) ?? TooMuch(parse, command)
                ?? Asked(Library(parse), command);
    }

    /// <summary>The sentence about an empty word, which is no name of anything; null where there is none.</summary>
    public static string? Empty(IReadOnlyList<string> args)
    {
        for (int i = 0; i < args.Count; i++)
        {
            if (args[i].Length == 0)
            {
                return (i == 0 ? "the first word is empty; a command was expected" : $"the word after {args[i - 1]} is empty; a name or a "
                    + "value was expected") + ", so check the command line (a shell variable that is not set leaves an empty word)";
            }
        }

        return null;
    }

    private static string NoCommand(RootCommand root, IReadOnlyList<string> args)
    {
        string[] commands = [.. root.Subcommands.Select(c => c.Name)];
        string all = $"the commands are {string.Join(", ", commands)}; see {Help(root)}";
        string? first = args.FirstOrDefault(a => !a.StartsWith('-'));
        if (args.Count == 0)
        {
            return "nothing was asked for; chargeaudit audit FOLDER compares the logs in a folder, chargeaudit page does so in the "
                + $"browser, and {all}";
        }

        if (args[0].StartsWith('-'))
        {
            string such = first is null ? $"; {all}" : NearestWord.Of(first, commands) is { } close
                ? $", such as chargeaudit {close}; see {Help(root)}"
                : $", such as chargeaudit audit {first}; see {Help(root)}";
            return $"there is no option {args[0]} before a command"
                + (Near(args[0], Names(root)) is { } option ? $"; did you mean {option}? Otherwise " : "; ")
                + $"name a command first{such}";
        }

        return File.Exists(first) || Directory.Exists(first)
            ? $"{first} stands where a command was expected; did you mean chargeaudit audit {first}? Otherwise {all}"
            : $"there is no command {first}"
                + (Near(first!, commands) is { } near ? $"; did you mean {near}? See {Help(root)}" : $"; {all}");
    }

    private static string? UnknownOption(ParseResult parse, Command command)
    {
        string? stray = parse.UnmatchedTokens.Concat(
                parse.CommandResult.Children.OfType<SymbolResult>().SelectMany(r => r.Tokens).Select(t => t.Value))
            .FirstOrDefault(t => t.Length > 1 && t.StartsWith('-') && !double.TryParse(t, CultureInfo.InvariantCulture, out _));
        return stray is null
            ? null
            : $"{command.Name} has no option {stray}{Meant(stray, Names(command), command)}";
    }

    // An option that takes a few words and was given another.
    private static string? UnknownWord(ParseResult parse)
    {
        foreach (var option in parse.CommandResult.Children.OfType<OptionResult>())
        {
            string[] known = [.. option.Option.GetCompletions(System.CommandLine.Completions.CompletionContext.Empty)
                .Select(c => c.InsertText ?? c.Label)];
            if (parse.Errors.Any(e => e.SymbolResult == option || e.SymbolResult?.Parent == option) && known.Length > 0
                && option.Tokens.FirstOrDefault(t => !known.Contains(t.Value)) is { } wrong)
            {
                string one = string.Join(", ", known);
                return $"{option.Option.Name} is \"{wrong.Value}\", and one of {one} was expected"
                    + Meant(wrong.Value, known, parse.CommandResult.Command);
            }
        }

        return null;
    }

    // What a command or an option needs and was not given.
    private static string? NoValue(ParseResult parse, Command command)
    {
        foreach (var error in parse.Errors)
        {
            if (error.SymbolResult is ArgumentResult { Tokens.Count: 0, Parent: CommandResult } missing)
            {
                return Asked($"{command.Name} needs {Name(missing.Argument)} ({First(missing.Argument.Description)})", command);
            }

            var option = error.SymbolResult as OptionResult ?? error.SymbolResult?.Parent as OptionResult;
            if (option is { Implicit: false, Tokens.Count: 0, Option: { Arity.MinimumNumberOfValues: > 0 } named })
            {
                return Asked($"{named.Name} stands without a value; {Expected(named)} was expected after it", command);
            }
        }

        var absent = command.Options.FirstOrDefault(o => o.Required && parse.GetResult(o) is null or { Implicit: true, Tokens.Count: 0 });
        return absent is { Required: true }
            ? Asked($"{command.Name} needs {absent.Name} {absent.HelpName} ({First(absent.Description)})", command)
            : null;
    }

    private static string? TooMuch(ParseResult parse, Command command) => parse.UnmatchedTokens.Count > 0
        ? Asked($"\"{parse.UnmatchedTokens[0]}\" stands where {command.Name} expects nothing more; leave it out", command)
        : null;

    // What stands before the first semicolon of a description says what a thing is.
    private static string First(string? description) => (description ?? "").Split(';')[0];

    private static string Name(Symbol symbol) => symbol is Argument { HelpName: { } named } ? named : symbol.Name;

    private static string Expected(Option option) => option.HelpName switch
    {
        { } words when words.Contains('|', StringComparison.Ordinal) => $"one of {words.Replace("|", ", ", StringComparison.Ordinal)}",
        "WORD" => $"one of {string.Join(", ", option.GetCompletions(System.CommandLine.Completions.CompletionContext.Empty)
            .Select(c => c.InsertText ?? c.Label))}",
        { } named => named,
        _ => "a value",
    };

    private static string Asked(string said, Command command) => said.EndsWith('?')
        ? $"{said} See {Help(command)}"
        : $"{said}; see {Help(command)}";

    private static string Library(ParseResult parse) => string.Join(
        ' ', parse.Errors[0].Message.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries)).TrimEnd('.');

    private static IEnumerable<string> Names(Command command) =>
        command.Options.Where(o => !o.Hidden).Select(o => o.Name).Append("--help");

    /// <summary>The known word that a mistyped one is near to; null where there is none.</summary>
    public static string? Near(string word, IEnumerable<string> known) =>
        word.TrimStart('-').Length >= LeastLetters ? NearestWord.Of(word, known) : null;

    // A sentence that ends with a question needs no semicolon after it.
    private static string Meant(string word, IEnumerable<string> known, Command command) =>
        Near(word, known) is { } near ? $"; did you mean {near}? See {Help(command)}" : $"; see {Help(command)}";

    private static string Help(Command command) => command is RootCommand ? "chargeaudit --help" : $"chargeaudit {command.Name} --help";
}
