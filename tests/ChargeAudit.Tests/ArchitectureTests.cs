using System.Text.RegularExpressions;
using ChargeAudit.Documents;
using ChargeAudit.Documents.Architecture;

namespace ChargeAudit.Tests;

/// <summary>Arrows between rooms go one way, as the compiled code shows.</summary>
public sealed partial class ArchitectureTests
{
    private static readonly CompiledCode Code = CompiledCode.OfProgramIn(AppContext.BaseDirectory);

    [Fact]
    public void No_projects_use_one_another_in_a_circle() => Assert.Empty(Code.Projects().Cycles().Select(c => string.Join(" ↔ ", c)));

    [Fact]
    public void No_namespaces_use_one_another_in_a_circle() => Assert.Empty(Code.Namespaces().Cycles().Select(c => string.Join(" ↔ ", c)));

    // A constant leaves no trace in compiled code; the using line that it needs does, in the source.
    [Fact]
    public void No_using_lines_close_a_circle_either()
    {
        string source = Path.Combine(GeneratedDocuments.RepositoryAbove(AppContext.BaseDirectory), "src");
        var named = new List<(string From, string To)>();
        foreach (string file in Directory.EnumerateFiles(source, "*.cs", SearchOption.AllDirectories)
            .Where(f => !f.Contains($"{Path.DirectorySeparatorChar}obj{Path.DirectorySeparatorChar}", StringComparison.Ordinal)))
        {
            string[] lines = File.ReadAllLines(file);
            string? room = Room(lines, "namespace");
            named.AddRange(lines.Where(l => room is not null && l.StartsWith($"using {CompiledCode.Root}.", StringComparison.Ordinal))
                .Select(l => (room!, Room([l], "using")!)));
        }

        Assert.NotEmpty(named);
        var compiled = Code.Namespaces();
        var both = new UseGraph(compiled.Rooms.Concat(named.SelectMany(n => new[] { n.From, n.To })),
            compiled.Rooms.SelectMany(r => compiled.UsedBy(r).Select(to => (r, to))).Concat(named));
        Assert.Empty(both.Cycles().Select(c => string.Join(" ↔ ", c)));

        static string? Room(string[] lines, string word) =>
            lines.FirstOrDefault(l => l.StartsWith($"{word} {CompiledCode.Root}.", StringComparison.Ordinal))?[
            (word.Length + CompiledCode.Root.Length + 2)..].TrimEnd(';');
    }

    [Fact]
    public void A_type_s_namespace_starts_with_its_project() =>
        Assert.All(Code.Types,
            t => Assert.StartsWith($"{CompiledCode.Root}.{CompiledCode.ProjectOf(t)}.", t.Namespace + ".", StringComparison.Ordinal));

    [Theory]
    [InlineData("Metrology", "Logs")]
    [InlineData("Logs", "Measuring")]
    [InlineData("Coils", "Logs")]
    [InlineData("Measuring", "Studies")]
    [InlineData("Studies", "Comparing")]
    [InlineData("Comparing", "Checking")]
    [InlineData("Checking", "Pooling")]
    [InlineData("Pooling", "Reports")]
    [InlineData("Pooling", "Simulation")]
    [InlineData("Simulation", "Reports")]
    [InlineData("Reports", "Simulation")]
    [InlineData("Reports", "Cli")]
    public void A_lower_room_knows_nothing_of_a_higher_one(string lower, string higher) =>
        Assert.DoesNotContain(higher, Code.Projects().Reached(lower));

    [Fact]
    public void Every_room_stands_in_a_line_for_developers_and_no_other()
    {
        string text = File.ReadAllText(Path.Combine(GeneratedDocuments.RepositoryAbove(AppContext.BaseDirectory), "DEVELOPERS.md"));
        var listed = RoomOfLine().Matches(text).Select(m => m.Groups[1].Value);
        Assert.Equal(Code.Namespaces().Rooms.Order(StringComparer.Ordinal), listed.Order(StringComparer.Ordinal));
    }

    [Fact]
    public void A_circle_is_found_whatever_stands_beside_it()
    {
        var graph = new UseGraph(["a", "b", "c", "d", "e", "f"],
            [("a", "b"), ("b", "c"), ("c", "a"), ("d", "a"), ("d", "d"), ("e", "f"), ("f", "e")]);
        Assert.Equal([["a", "b", "c"], ["e", "f"]], graph.Cycles());
    }

    [Fact]
    public void Arrows_one_way_are_no_circle_and_those_that_follow_from_others_are_not_drawn()
    {
        var graph = new UseGraph(["a", "b", "c"], [("a", "b"), ("b", "c"), ("a", "c")]);
        Assert.Empty(graph.Cycles());
        Assert.Equal(["b"], graph.WithoutImplied().UsedBy("a"));
    }

    // Each of these is there in one form only: as a base, an attribute, a type argument, a call, a local, in a closure.
    [Fact]
    public void A_use_is_seen_in_whatever_form_it_takes()
    {
        var uses = AssemblyUses.Of([typeof(ArchitectureTests).Assembly.Location]).Uses.Where(u => u.From.Name == nameof(UserOfAll))
            .Select(u => u.To.Name).ToHashSet();
        Assert.Superset(
            new HashSet<string> { nameof(UsedAsBase), nameof(UsedAsMarkAttribute), nameof(UsedAsArgument), nameof(UsedByCall),
                nameof(UsedInClosure), "IUsedAsConstraint`1" }, uses);
    }

    [GeneratedRegex(@"^\| `([A-Z][\w.]+)` \|", RegexOptions.Multiline)]
    private static partial Regex RoomOfLine();
}

internal class UsedAsBase
{
}

[AttributeUsage(AttributeTargets.Method)]
internal sealed class UsedAsMarkAttribute : Attribute
{
}

internal sealed class UsedAsArgument
{
}

internal static class UsedByCall
{
    public static int Answer() => 42;
}

internal static class UsedInClosure
{
    public static int Answer() => 43;
}

internal interface IUsedAsConstraint<T>
{
}

internal sealed class UserOfAll : UsedAsBase
{
    public List<UsedAsArgument> Field { get; } = [];

    [UsedAsMark]
    public static Func<int> Called(int add)
    {
        int sum = UsedByCall.Answer() + add;
        return () => UsedInClosure.Answer() + sum;
    }

    public static int Constrained<T>()
        where T : IUsedAsConstraint<int> => 1;
}
