using System.Text.RegularExpressions;
using ChargeAudit.Tests.Reports;

namespace ChargeAudit.Tests.Docs;

/// <summary>Every text for people against docs/words.md: the program's sentences, the page, the README and the documents.</summary>
public sealed partial class WordsTests
{
    private static readonly string[] NotUsed = [.. Listed()];

    // Texts of laws and procedures keep their own words; docs/words.md says so. The rest holds no text for people: words that names of
    // files may hold, and keys.
    private static readonly string[] Exempt =
    [
        "Comparing/Procedures/", "Model/Sections/ProcedureSection.cs", "Model/Sections/MethodsSection.cs", "Output/PublishedText.cs",
        "Json/PublishedJson.cs", "Drafting/NameWords.cs", "Studies/MeterReader.cs", "docs/sources.md", "docs/words.md", "docs/CHANGELOG.md",
        "docs/THIRD-PARTY-NOTICES.md", "docs/architecture.md",
    ];

    [Fact]
    public void The_list_names_what_is_not_used()
    {
        Assert.True(NotUsed.Length >= 25, string.Join(", ", NotUsed));
        Assert.Contains("maintenance power", NotUsed);
        Assert.Contains("do not compare", NotUsed);
    }

    [Theory]
    [InlineData("the maintenance power of pad", true)]
    [InlineData("give `no-load` under [adapter]", false)]
    [InlineData("kind = \"wired\"", false)]
    [InlineData("measured at usb", true)]
    [InlineData("A USB meter", false)]
    [InlineData("--inductive LOG", false)]
    public void A_word_is_found_where_it_is_no_key(string text, bool found) => Assert.Equal(found, Found(text).Any());

    [Fact]
    public void The_program_s_sentences_hold_to_it() => Assert.Empty(
        Files("src", "*.cs").SelectMany(file => Told(file, Sentences(File.ReadAllText(file)))));

    // Names and keys of code are not people's words, so comments are held to the turns of phrase alone.
    [Fact]
    public void Comments_hold_to_its_turns_of_phrase()
    {
        string[] turns = [.. NotUsed.SkipWhile(w => w != "do not compare")];
        Assert.True(turns.Length >= 12, string.Join(", ", turns));
        Assert.Empty(Files("src", "*.cs").SelectMany(file => Comments(File.ReadAllText(file))
            .SelectMany(text => turns.Where(t => Regex.IsMatch(text, $@"\b{Regex.Escape(t)}\b", RegexOptions.IgnoreCase)),
                (text, turn) => $"{Name(file)}: \"{turn}\" in: {text}")));
    }

    [Fact]
    public void The_page_holds_to_it() => Assert.Empty(
        Files("src", "page.*").Where(f => f.EndsWith(".html", StringComparison.Ordinal) || f.EndsWith(".js", StringComparison.Ordinal))
            .SelectMany(file => Told(file, File.ReadLines(file).Select(l => PageKey().Replace(l, "")))));

    [Fact]
    public void Documents_hold_to_it() => Assert.Empty(
        Files("docs", "*.md").Append(Golden.RepositoryFile("README.md")).Append(Golden.RepositoryFile("DEVELOPERS.md"))
            .SelectMany(file => Told(file, Prose(file))));

    private static IEnumerable<string> Listed()
    {
        foreach (string row in File.ReadLines(Golden.RepositoryFile("docs", "words.md"))
            .Where(l => l.StartsWith("| ", StringComparison.Ordinal)))
        {
            string last = row.Trim().Trim('|').Split('|')[^1].Trim();
            if (!last.StartsWith("not used", StringComparison.Ordinal))
            {
                foreach (string word in last.Split(',', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries))
                {
                    yield return word;
                }
            }
        }
    }

    private static IEnumerable<string> Told(string file, IEnumerable<string> texts) =>
        texts.SelectMany(Found, (text, word) => $"{Name(file)}: \"{word}\" in: {text}");

    // Keys, options and words in quotes or code are the file's own. Only "usb" is looked for in small letters alone: a USB meter is not
    // the key usb.
    private static IEnumerable<string> Found(string text)
    {
        string prose = Key().Replace(text, " ");
        return NotUsed.Where(word => Regex.IsMatch(prose, $@"(?<![\w.-]){Regex.Escape(word)}(?![\w-])",
            word is "usb" ? RegexOptions.None : RegexOptions.IgnoreCase));
    }

    // Literals with a blank in them; those without are keys and parts of names.
    private static IEnumerable<string> Sentences(string source) => source.Split('\n')
        .Where(l => !l.TrimStart().StartsWith("//", StringComparison.Ordinal))
        .SelectMany(l => Literal().Matches(l).Select(m => m.Groups[1].Value))
        .Where(s => s.Trim().Contains(' ', StringComparison.Ordinal))
        .Select(s => s.Replace("\\\"", "`", StringComparison.Ordinal));

    private static IEnumerable<string> Comments(string source) => source.Split('\n').Select(l => l.Trim())
        .Where(l => l.StartsWith("//", StringComparison.Ordinal));

    private static IEnumerable<string> Prose(string file)
    {
        bool code = false, quoted = false;
        foreach (string line in File.ReadLines(file))
        {
            code ^= line.StartsWith("```", StringComparison.Ordinal);
            quoted = line.StartsWith("## ", StringComparison.Ordinal) ? line.Contains("procedure", StringComparison.Ordinal)
                || line.Contains("yardsticks", StringComparison.Ordinal) : quoted;
            if (!code && !(quoted && file.EndsWith("year.md", StringComparison.Ordinal)))
            {
                yield return Link().Replace(line, "]");
            }
        }
    }

    private static IEnumerable<string> Files(string folder, string pattern) =>
        Directory.EnumerateFiles(Golden.RepositoryFile(folder), pattern, SearchOption.AllDirectories)
            .Where(f => !Built().IsMatch(f) && !Exempt.Any(e => f.Replace('\\', '/').Contains(e, StringComparison.Ordinal)));

    private static string Name(string file) => Path.GetRelativePath(Golden.RepositoryFile(), file);

    [GeneratedRegex(@"`[^`]*`|--[\w-]+|\[\[?[\w.-]+\]\]?|""[\w-]+""|'[\w-]+'|[\w-]+ = |\{[^{}]*\}")]
    private static partial Regex Key();

    // The page's keys are values of choices: ['wired', 'by cable'].
    [GeneratedRegex(@"\['[\w-]+'")]
    private static partial Regex PageKey();

    [GeneratedRegex("\"((?:[^\"\\\\]|\\\\.)*)\"")]
    private static partial Regex Literal();

    [GeneratedRegex(@"\]\([^)]*\)")]
    private static partial Regex Link();

    [GeneratedRegex(@"[\\/](bin|obj)[\\/]")]
    private static partial Regex Built();
}
