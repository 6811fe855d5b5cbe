using System.Reflection;
using System.Reflection.Metadata;
using System.Reflection.Metadata.Ecma335;
using System.Text.RegularExpressions;
using ChargeAudit.Cli;

namespace ChargeAudit.Tests.House;

/// <summary>Libraries say what is wrong; only the program knows its options and commands. Read from the texts in the compiled
/// assemblies.</summary>
public sealed partial class NoCommandLineWordsTests
{
    [Fact]
    public void No_text_below_the_program_names_an_option_or_a_command()
    {
        var program = typeof(ChargeAuditProgram).Assembly;
        var said = Reachability.Shipped(program).Where(a => a != program)
            .SelectMany(a => Texts(a).Where(t => CommandLineWord().IsMatch(t)).Select(t => $"{a.GetName().Name}: {t}")).ToList();
        Assert.True(said.Count == 0, string.Join('\n', said));
    }

    // The check itself is checked: the program's own texts hold such words, and they are found.
    [Fact]
    public void The_program_names_them() =>
        Assert.Contains(Texts(typeof(ChargeAuditProgram).Assembly), t => CommandLineWord().IsMatch(t));

    [Theory]
    [InlineData("add --margin 2%", true)]
    [InlineData("check it with chargeaudit inspect", true)]
    [InlineData("style=\"--line:red\"", false)]
    [InlineData("drafted by chargeaudit.", false)]
    [InlineData("chargeaudit-audit/1", false)]
    public void Options_are_told_from_what_looks_like_them(string text, bool isWord) =>
        Assert.Equal(isWord, CommandLineWord().IsMatch(text));

    // A property of a style sheet begins like an option and ends with a colon.
    [GeneratedRegex(@"(?<![\w-])--(?>[a-z][a-z-]*)(?!:)|\bchargeaudit (audit|measure|inspect|check|plan|draft|simulate|coils|page)\b")]
    private static partial Regex CommandLineWord();

    private static List<string> Texts(Assembly assembly)
    {
        using var file = new System.Reflection.PortableExecutable.PEReader(File.OpenRead(assembly.Location));
        var metadata = file.GetMetadataReader();
        var texts = new List<string>();
        for (var at = MetadataTokens.UserStringHandle(1); !at.IsNil; at = metadata.GetNextHandle(at))
        {
            texts.Add(metadata.GetUserString(at));
        }

        return texts;
    }
}
