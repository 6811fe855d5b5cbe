using System.Text.RegularExpressions;

namespace ChargeAudit.EndToEnd.Documented;

/// <summary>
/// A command that a document tells people to type. A block of <c>sh</c>, or of no language, holds one in each line; a block of
/// <c>console</c> holds them after <c>$</c>, each with what it prints below. Between backticks, one counts only where it has arguments.
/// </summary>
/// <param name="Line">Its line in the document.</param>
/// <param name="Command">As it stands there, without the comment behind it.</param>
/// <param name="Comment">What stands behind #; empty where nothing does.</param>
/// <param name="Shown">The lines that the document shows as printed; null where it shows none.</param>
internal sealed partial record DocumentedExample(int Line, string Command, string Comment, IReadOnlyList<string>? Shown)
{
    private const string Program = "chargeaudit ";
    private const string FromSources = "dotnet run --project src/ChargeAudit.Cli -- ";

    /// <summary>Its words after the program's name, as a shell would take them; null where it runs another program.</summary>
    public string[]? Arguments =>
        Command.StartsWith(Program, StringComparison.Ordinal) ? Words(Command[Program.Length..])
        : Command.StartsWith(FromSources, StringComparison.Ordinal) ? Words(Command[FromSources.Length..])
        : null;

    /// <summary>The exit status that the comment promises; null where it says nothing.</summary>
    public int? Status => StatusSaid().Match(Comment) is { Success: true } said
        ? int.Parse(said.Groups["status"].Value, System.Globalization.CultureInfo.InvariantCulture)
        : null;

    /// <summary>The commands of a document, in its order.</summary>
    public static List<DocumentedExample> Of(string page)
    {
        var found = new List<DocumentedExample>();
        string[] lines = page.ReplaceLineEndings("\n").Split('\n');
        string? language = null;
        for (int i = 0; i < lines.Length; i++)
        {
            string line = lines[i];
            if (line.StartsWith("```", StringComparison.Ordinal))
            {
                language = language is null ? line[3..].Trim() : null;
            }
            else if (language is null)
            {
                found.AddRange(Inline().Matches(line).Select(m => From(i + 1, m.Groups["command"].Value, null)));
            }
            else if (language is "sh" or "" && line.Length > 0 && !char.IsWhiteSpace(line[0]) && line[0] != '#')
            {
                found.Add(From(i + 1, line, null));
            }
            else if (language == "console" && line.StartsWith("$ ", StringComparison.Ordinal))
            {
                found.Add(From(i + 1, line[2..], [.. lines.Skip(i + 1).TakeWhile(l => !l.StartsWith("```", StringComparison.Ordinal)
                    && !l.StartsWith("$ ", StringComparison.Ordinal)).Select(l => l.TrimEnd())]));
            }
        }

        return found;
    }

    private static DocumentedExample From(int line, string text, IReadOnlyList<string>? shown)
    {
        var comment = CommentBehind().Match(text);
        return comment.Success
            ? new(line, text[..comment.Index].Trim(), comment.Groups["said"].Value.Trim(), shown)
            : new(line, text.Trim(), "", shown);
    }

    // Quotes hold blanks together, within a word too.
    private static string[] Words(string text) =>
        [.. Word().Matches(Redirection().Replace(text, "")).Select(w => Quote().Replace(w.Value, "")
            .Replace("$LANG", "en_GB.UTF-8", StringComparison.Ordinal))];

    [GeneratedRegex("""(?:"[^"]*"|'[^']*'|[^\s"'])+""")]
    private static partial Regex Word();

    [GeneratedRegex("[\"']")]
    private static partial Regex Quote();

    [GeneratedRegex(@"\s>>?\s.*$")]
    private static partial Regex Redirection();

    [GeneratedRegex(@"\s#\s(?<said>.*)$")]
    private static partial Regex CommentBehind();

    [GeneratedRegex(@"ends with (?<status>\d+)")]
    private static partial Regex StatusSaid();

    [GeneratedRegex(@"(?<!`)`(?<command>chargeaudit [^`]+ [^`]+)`(?!`)")]
    private static partial Regex Inline();
}
