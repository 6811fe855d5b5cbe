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
    [MemberData(nameof(Lines))]
    public void Bash_completes_what_was_begun(string line, string expected) => Assert.Equal([expected], InBash(line));

    [Fact]
    public void Bash_has_names_of_files_left_to_itself() => Assert.Empty(InBash("chargeaudit measure pad-1"));

    [Fact]
    public void Bash_offers_the_commands_where_nothing_was_typed() =>
        Assert.Superset(new HashSet<string> { "audit", "measure", "check", "coils", "completion" }, InBash("chargeaudit ").ToHashSet());

    [Fact]
    public void Zsh_completes_what_was_begun()
    {
        string[] lines = [.. Lines.Select(l => l.Data.Item1)];
        string script = $$"""
            zmodload zsh/zpty
            zpty -b shell zsh -f -i
            until_seen() {
                local out= piece
                local -i n=0
                while (( n++ < 400 )); do
                    if zpty -r -t shell piece; then out+=$piece; [[ $out == *$1* ]] && break; else sleep 0.05; fi
                done
                print -r -- "$out"
            }
            zpty -w shell "PS1=; bindkey '^I' complete-word; autoload -U compinit; compinit -u -D; source ./_chargeaudit"
            zpty -w shell "chargeaudit() { print -r -- \"ran <\$*>\" }; print rea''dy"
            until_seen ready >/dev/null
            for line in {{string.Join(' ', lines.Select(l => $"'{l}'"))}}; do
                zpty -w -n shell $line$'\t\n'
                until_seen '>' | tr -d '\r' | grep -a -o 'ran <.*>'
            done
            zpty -d shell
            """;
        _folder.File("_chargeaudit", Script("zsh"));
        _folder.File("try.zsh", script);
        var run = Run.Process(_folder.Path, Needs.Program("zsh"), "-f", "try.zsh");
        string[] expected = [.. Lines.Select(l => $"ran <{Whole(l.Data.Item1, l.Data.Item2)["chargeaudit ".Length..]}>")];
        Assert.Equal(expected, Answers(run));
    }

    [Fact]
    public void Fish_completes_what_was_begun()
    {
        _folder.File("chargeaudit.fish", Script("fish"));
        string fish = Needs.Program("fish");
        foreach (var (line, expected) in Lines.Select(l => l.Data))
        {
            var run = Run.Process(_folder.Path, fish, "--no-config", "-c", $"source chargeaudit.fish; complete -C '{line}'");
            Assert.Equal([expected], Answers(run).Select(a => a.Split('\t')[0]));
        }
    }

    [Fact]
    public void PowerShell_completes_what_was_begun()
    {
        _folder.File("chargeaudit.ps1", Script("powershell"));
        _folder.File("try.ps1", ". ./chargeaudit.ps1\n" + string.Concat(Lines.Select(l =>
            $"(TabExpansion2 '{l.Data.Item1}' {l.Data.Item1.Length}).CompletionMatches | ForEach-Object CompletionText\n")));
        var run = Run.Process(_folder.Path, Needs.PowerShell(), "-NoProfile", "-File", "try.ps1");
        Assert.Equal(Lines.Select(l => l.Data.Item2), Answers(run));
    }

    public static TheoryData<string, string> Lines => new()
    {
        { "chargeaudit si", "simulate" },
        { "chargeaudit audit --cur", "--currency" },
        { "chargeaudit measure log.csv --format j", "json" },
        { "chargeaudit audit --point wa", "wall" },
        { "chargeaudit completion fi", "fish" },
    };

    private static string Whole(string line, string word) => line[..(line.LastIndexOf(' ') + 1)] + word;

    private List<string> InBash(string line) => Answers(Run.Process(_folder.Path, Needs.Bash(), "-c", Script("bash") + $$"""

        COMP_LINE='{{line}}'
        COMP_POINT=${#COMP_LINE}
        read -r -a COMP_WORDS <<< "$COMP_LINE"
        [ "${COMP_LINE: -1}" = ' ' ] && COMP_WORDS+=('')
        COMP_CWORD=$((${#COMP_WORDS[@]} - 1))
        complete -p chargeaudit | grep -q -- '-o default -F _chargeaudit' || exit 3
        _chargeaudit
        printf '%s\n' "${COMPREPLY[@]}"
        """));

    private static List<string> Answers(Run run)
    {
        Assert.Equal((0, ""), (run.Status, run.Error));
        return [.. run.Output.Split('\n', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries)];
    }

    private static string Script(string shell)
    {
        var run = Run.Of("completion", shell);
        Assert.Equal((0, ""), (run.Status, run.Error));
        return run.Output;
    }
}
