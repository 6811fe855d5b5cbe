namespace ChargeAudit.EndToEnd;

/// <summary>What the shell offers when a user presses Tab.</summary>
public sealed class CompletionTests : IDisposable
{
    private readonly TemporaryFolder _folder = new();

    public void Dispose() => _folder.Dispose();

    [Theory]
    [InlineData("chargeaudit me", "measure")]
    [InlineData("chargeaudit audit --", "--inductive")]
    [InlineData("chargeaudit check --ba", "--baseline")]
    [InlineData("chargeaudit measure log.csv --format ", "json")]
    [InlineData("chargeaudit audit --point ", "wall")]
    [InlineData("chargeaudit plan --samples ", "on-change")]
    public void The_program_says_what_may_follow(string line, string expected)
    {
        var run = Run.Of($"[suggest:{line.Length}]", line);
        Assert.Equal((0, ""), (run.Status, run.Error));
        Assert.Contains(expected, run.Output.Split('\n', StringSplitOptions.TrimEntries));
    }

    [Theory]
    [InlineData("chargeaudit si", "simulate")]
    [InlineData("chargeaudit audit --cur", "--currency")]
    [InlineData("chargeaudit measure log.csv --format j", "json")]
    public void The_script_for_bash_completes_what_was_begun(string line, string expected) => Assert.Equal([expected], Completed(line));

    [Fact]
    public void The_script_for_bash_leaves_names_of_files_to_the_shell() => Assert.Empty(Completed("chargeaudit measure pad-1"));

    [Fact]
    public void The_script_for_bash_offers_commands_and_no_slashes_where_nothing_was_typed()
    {
        var offered = Completed("chargeaudit ");
        Assert.Superset(new HashSet<string> { "audit", "measure", "check", "coils" }, offered.ToHashSet());
        Assert.DoesNotContain(offered, o => o.StartsWith('/'));
    }

    private List<string> Completed(string line)
    {
        string bash = Needs.Bash();
        string script = Script("bash") + $$"""

            chargeaudit() { dotnet '{{Path.Combine(AppContext.BaseDirectory, "chargeaudit.dll")}}' "$@"; }
            COMP_LINE='{{line}}'
            COMP_POINT=${#COMP_LINE}
            read -r -a COMP_WORDS <<< "$COMP_LINE"
            [ "${COMP_LINE: -1}" = ' ' ] && COMP_WORDS+=('')
            COMP_CWORD=$((${#COMP_WORDS[@]} - 1))
            complete -p chargeaudit | grep -q -- '-o default -F _chargeaudit' || exit 3
            _chargeaudit
            printf '%s\n' "${COMPREPLY[@]}"
            """;
        var run = Run.Process(_folder.Path, bash, "-c", script);
        Assert.Equal((0, ""), (run.Status, run.Error));
        return [.. run.Output.Split('\n', StringSplitOptions.RemoveEmptyEntries)];
    }

    private static string Script(string language)
    {
        string[] lines = File.ReadAllLines(Path.Combine(Repository.Root, "docs", "completion.md"));
        return string.Join('\n', lines.SkipWhile(l => l != $"```{language}").Skip(1).TakeWhile(l => l != "```")) + "\n";
    }
}
