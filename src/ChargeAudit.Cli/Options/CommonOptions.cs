using System.CommandLine;
using System.CommandLine.Parsing;
using System.Globalization;

namespace ChargeAudit.Cli.Options;

/// <summary>Options that several commands share, and the building blocks for others.</summary>
internal static class CommonOptions
{
    public const string FormatName = "--format";

    public const string WhereTheMeterSat = "where the meter sat: at the wall socket, between the adapter and the cable or pad, at "
        + "the device (its socket by cable, its receiver's output on a pad) or at its battery";

    private const int WidestWords = 24;

    public static Option<string> Format() => Word(FormatName, "text for people, json for programs", "text", "json");

    public static Option<bool> Strict() => new("--strict") { Description = "refuse a log at its first fault" };

    public static Option<bool> Quiet() => new("--quiet") { Description = "print no progress and no text, only errors" };

    public static Option<bool> Overwrite() => new("--overwrite")
    {
        Description = "replace files in the folder even where this program did not write them",
    };

    public static Argument<string[]> Logs(string description)
    {
        var logs = new Argument<string[]>("LOG") { Description = description, Arity = ArgumentArity.OneOrMore };
        logs.Validators.Add(RefuseOptionLikeNames);
        return logs;
    }

    /// <summary>An option with a few allowed words; the first is the default.</summary>
    public static Option<string> Word(string name, string description, params string[] words)
    {
        var option = new Option<string>(name)
        {
            Description = Described(description, words),
            HelpName = Named(words),
            DefaultValueFactory = _ => words[0],
        };
        option.AcceptOnlyFromAmong(words);
        return option;
    }

    /// <summary>An option with a few allowed words and no default.</summary>
    public static Option<string?> OptionalWord(string name, string description, params string[] words)
    {
        var option = new Option<string?>(name) { Description = Described(description, words), HelpName = Named(words) };
        option.AcceptOnlyFromAmong(words);
        return option;
    }

    // Words that are too long for the column of names stand in the description: that column takes its width from the longest.
    private static bool AreShort(string[] words) => string.Join('|', words).Length <= WidestWords;

    private static string Named(string[] words) => AreShort(words) ? string.Join('|', words) : "WORD";

    private static string Described(string description, string[] words) =>
        AreShort(words) ? description : $"{description}: {string.Join(", ", words.SkipLast(1))} or {words[^1]}";

    public static Option<string?> Text(string name, string description, string helpName) => new(name)
    {
        Description = description,
        HelpName = helpName,
    };

    // The library would read numbers in the user's culture, with thousands separators: 0,30 would become 30.
    public static Option<double?> Number(string name, string description, string helpName, string example = "0.30") => new(name)
    {
        Description = description,
        HelpName = helpName,
        CustomParser = result =>
        {
            string token = result.Tokens[0].Value;
            if (double.TryParse(token, NumberStyles.Float, CultureInfo.InvariantCulture, out double number) && double.IsFinite(number))
            {
                return number;
            }

            result.AddError($"{name} is \"{token}\"; a number with a decimal point was expected, such as {example}");
            return null;
        },
    };

    // A mistyped option would otherwise be taken as the name of a log.
    public static void RefuseOptionLikeNames(SymbolResult result)
    {
        var stray = result.Tokens.FirstOrDefault(t => t.Value.StartsWith("--", StringComparison.Ordinal)
            || (t.Value.StartsWith('-') && t.Value.Length > 1 && !File.Exists(t.Value)));
        if (stray is not null)
        {
            result.AddError($"there is no option {stray.Value} here");
        }
    }
}
