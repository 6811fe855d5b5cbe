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
            : UnknownOption(parse, command) ?? UnknownWord(parse) ?? $"{Library(parse)}; see chargeaudit {command.Name} --help";
    }

    private static string NoCommand(RootCommand root, IReadOnlyList<string> args)
    {
        string[] commands = [.. root.Subcommands.Select(c => c.Name)];
        string all = $"the commands are {string.Join(", ", commands)}; see chargeaudit --help";
        string? first = args.FirstOrDefault(a => !a.StartsWith('-'));
        if (args.Count == 0)
        {
            return "nothing was asked for; chargeaudit audit FOLDER compares the logs in a folder, chargeaudit page does so in the "
                + $"browser, and {all}";
        }

        if (args[0].StartsWith('-'))
        {
            string meant = first is null ? "" : NearestWord.Of(first, commands) is { } close
                ? $", such as chargeaudit {close}"
                : $", such as chargeaudit audit {first}";
            return $"there is no option {args[0]} before a command{Meant(args[0], Names(root))}; name a command first{meant}; {all}";
        }

        return File.Exists(first) || Directory.Exists(first)
            ? $"{first} stands where a command was expected; did you mean chargeaudit audit {first}? Otherwise {all}"
            : $"there is no command {first}{Meant(first!, commands)}; {all}";
    }

    private static string? UnknownOption(ParseResult parse, Command command)
    {
        string? stray = parse.UnmatchedTokens.Concat(
                parse.CommandResult.Children.OfType<SymbolResult>().SelectMany(r => r.Tokens).Select(t => t.Value))
            .FirstOrDefault(t => t.Length > 1 && t.StartsWith('-') && !double.TryParse(t, CultureInfo.InvariantCulture, out _));
        return stray is null
            ? null
            : $"{command.Name} has no option {stray}{Meant(stray, Names(command))}; see chargeaudit {command.Name} --help";
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
                return $"{option.Option.Name} is \"{wrong.Value}\", and it is one of {one}{Meant(wrong.Value, known)}; see chargeaudit "
                    + $"{parse.CommandResult.Command.Name} --help";
            }
        }

        return null;
    }

    private static string Library(ParseResult parse) => string.Join(
        ' ', parse.Errors[0].Message.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries)).TrimEnd('.');

    private static IEnumerable<string> Names(Command command) =>
        command.Options.Where(o => !o.Hidden).Select(o => o.Name).Append("--help");

    private static string Meant(string word, IEnumerable<string> known) =>
        word.TrimStart('-').Length >= LeastLetters && NearestWord.Of(word, known) is { } near ? $"; did you mean {near}?" : "";
}
