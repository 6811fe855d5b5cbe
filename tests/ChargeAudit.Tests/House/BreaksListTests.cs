using ChargeAudit.Tests.Reports;

namespace ChargeAudit.Tests.House;

/// <summary>A break that is listed for <c>tests/breaks/run</c> can be put into today's sources: what it replaces stands there,
/// once.</summary>
public sealed class BreaksListTests
{
    [Fact]
    public void What_a_break_takes_out_stands_once_in_its_file()
    {
        var wrong = Breaks().Where(b => Times(b.Old, File.ReadAllText(Golden.RepositoryFile(b.File))) != 1).Select(b => b.Name).ToList();
        Assert.True(wrong.Count == 0, "mend in tests/breaks/list.txt: " + string.Join(", ", wrong));
    }

    [Fact]
    public void Thirty_breaks_and_more_are_listed() => Assert.InRange(Breaks().Count, 37, int.MaxValue);

    private static List<(string Name, string File, string Old)> Breaks() =>
    [
        .. File.ReadAllText(Golden.RepositoryFile("tests/breaks/list.txt")).Split("\n\n").Select(b => b.Split('\n'))
            .Where(lines => lines.Any(l => l.StartsWith("name: ", StringComparison.Ordinal)))
            .Select(lines => (Value(lines, "name: "), Value(lines, "file: "), Value(lines, "- "))),
    ];

    private static string Value(string[] lines, string key) =>
        string.Join('\n', lines.Where(l => l.StartsWith(key, StringComparison.Ordinal)).Select(l => l[key.Length..]));

    private static int Times(string piece, string whole) => whole.Split(piece).Length - 1;
}
