namespace ChargeAudit.EndToEnd.Documented;

/// <summary>Every command of the documents is run where its files are, ends as the document says and prints what it shows.</summary>
public sealed class DocumentedExamplesTests(DocumentedFiles files) : IClassFixture<DocumentedFiles>, IDisposable
{
    // A line of this stands for any number of lines.
    private const string Left = "…";

    private readonly TemporaryFolder _folder = new();

    public static TheoryData<string> Pages => [.. Documents.Select(d => d.Name)];

    public void Dispose() => _folder.Dispose();

    [Theory]
    [MemberData(nameof(Pages))]
    public void Every_command_of_a_page_does_what_the_page_says(string page)
    {
        var examples = Documents.Single(d => d.Name == page).Examples.Where(e => NotRun.For(page, e) < 0).ToList();
        if (examples.Count > 0)
        {
            files.CopyTo(_folder.Path);
        }

        foreach (var example in examples)
        {
            string where = $"{page}, line {example.Line}: {example.Command}";
            Assert.True(example.Arguments is not null, $"{where} is neither run nor exempt");
            var run = Run.In(_folder.Path, example.Arguments);

            // A check tells its verdict by its status.
            int[] expected = example.Status is { } said ? [said] : example.Arguments[0] == "check" ? [0, 1, 2] : [0];
            Assert.True(expected.Contains(run.Status), $"{where} ended with {run.Status}: {run.Error}");
            if (example.Shown is { } shown)
            {
                string[] printed = [.. (run.Output + run.Error).TrimEnd().Split('\n').Select(l => l.TrimEnd())];
                Assert.True(Matches(printed, [.. shown]), $"{where} printed\n{string.Join('\n', printed)}\nand the page shows\n"
                    + string.Join('\n', shown));
            }
        }
    }

    [Fact]
    public void No_exemption_is_without_its_command()
    {
        var needed = Documents.SelectMany(d => d.Examples.Select(e => NotRun.For(d.Name, e))).ToHashSet();
        Assert.Empty(NotRun.All.Where(e => !needed.Contains(e)).Select(NotRun.Text));
    }

    [Theory]
    [InlineData("a b", "a b", true)]
    [InlineData("a b c", "a …", true)]
    [InlineData("a b c", "… c", true)]
    [InlineData("a b c d", "a … d", true)]
    [InlineData("a b", "a", false)]
    [InlineData("a b c", "a … b", false)]
    [InlineData("a b c", "b …", false)]
    [InlineData("a", "a … a", false)]
    public void Lines_left_out_stand_for_any_others(string printed, string shown, bool expected) =>
        Assert.Equal(expected, Matches(printed.Split(' '), shown.Split(' ')));

    [Fact]
    public void Commands_are_read_as_a_shell_reads_them()
    {
        var found = DocumentedExample.Of(
            "Try `chargeaudit plan --help`, not `chargeaudit page`.\n\n```sh\nchargeaudit a \"b c\" d='e f'   # ends with 65, so\n```\n"
            + "```console\n$ chargeaudit x\none\n  two\n```\n```toml\nchargeaudit = 1\n```\n");
        Assert.Equal(["chargeaudit plan --help", "chargeaudit a \"b c\" d='e f'", "chargeaudit x"], found.Select(e => e.Command));
        Assert.Equal((string[])["a", "b c", "d=e f"], found[1].Arguments!);
        Assert.Equal([null, 65, null], found.Select(e => e.Status));
        Assert.Equal((string[])["one", "  two"], found[2].Shown!);
        Assert.Equal([1, 4, 7], found.Select(e => e.Line));
    }

    private static bool Matches(ReadOnlySpan<string> printed, ReadOnlySpan<string> shown)
    {
        if (shown.IsEmpty)
        {
            return printed.IsEmpty;
        }

        if (shown[0] != Left)
        {
            return !printed.IsEmpty && printed[0] == shown[0] && Matches(printed[1..], shown[1..]);
        }

        for (int skipped = 0; skipped <= printed.Length; skipped++)
        {
            if (Matches(printed[skipped..], shown[1..]))
            {
                return true;
            }
        }

        return false;
    }

    private static readonly (string Name, List<DocumentedExample> Examples)[] Documents =
    [
        .. Directory.GetFiles(Path.Combine(Repository.Root, "docs"), "*.md", SearchOption.AllDirectories)
            .Append(Path.Combine(Repository.Root, "README.md"))
            .Select(f => (Path.GetRelativePath(Repository.Root, f).Replace('\\', '/'), DocumentedExample.Of(File.ReadAllText(f))))
            .Where(d => d.Item2.Count > 0)
            .OrderBy(d => d.Item1, StringComparer.Ordinal),
    ];
}
