using System.Globalization;
using System.Text;

namespace ChargeAudit.Documents.Architecture;

/// <summary>The page that draws which room uses which.</summary>
public static class ArchitecturePage
{
    private const string Head = """
        # Which room uses which

        Drawn from the compiled code by `dotnet run --project tests/ChargeAudit.Documents`: an arrow points from a room to one that it uses.
        An arrow that follows from others is left out.
        All arrows go one way; `ArchitectureTests` fails on a cycle of projects or of namespaces.
        [DEVELOPERS.md](../DEVELOPERS.md) says what each room is for.
        The compiler copies a constant to where it is used, so a room that uses nothing but a constant of another has no arrow to it here.
        Between projects the compiler still enforces the direction.

        ## Projects


        """;

    /// <summary>Its Markdown.</summary>
    /// <param name="code">The compiled program.</param>
    public static string Of(CompiledCode code)
    {
        var text = new StringBuilder(Head.ReplaceLineEndings("\n"));
        var projects = code.Projects();
        Draw(text, projects.WithoutImplied(), projects.Rooms, "");
        text.Append("\n| project | types | uses |\n|---|---|---|\n");
        foreach (string project in InOrder(projects))
        {
            int types = code.Types.Count(t => t.Namespace == $"{CompiledCode.Root}.{project}"
                || t.Namespace.StartsWith($"{CompiledCode.Root}.{project}.", StringComparison.Ordinal));
            text.Append(CultureInfo.InvariantCulture, $"| {project} | {types} | {Listed(projects.UsedBy(project))} |\n");
        }

        text.Append("\n## Namespaces\n");
        var namespaces = code.Namespaces();
        var reduced = namespaces.WithoutImplied();
        foreach (string project in InOrder(projects))
        {
            var rooms = namespaces.Rooms.Where(r => r == project || r.StartsWith(project + ".", StringComparison.Ordinal)).ToList();
            text.Append("\n### ").Append(project).Append("\n\n");
            if (rooms.Count > 1)
            {
                Draw(text, reduced, rooms, project);
                text.Append('\n');
            }

            text.Append("| namespace | uses of other projects |\n|---|---|\n");
            foreach (string room in rooms)
            {
                text.Append("| ").Append(room).Append(" | ").Append(Listed(namespaces.UsedBy(room).Except(rooms, StringComparer.Ordinal)))
                    .Append(" |\n");
            }
        }

        return text.ToString();
    }

    // What is used stands before what uses it.
    private static IEnumerable<string> InOrder(UseGraph graph) =>
        graph.Rooms.OrderBy(r => graph.Reached(r).Count).ThenBy(r => r, StringComparer.Ordinal);

    private static void Draw(StringBuilder text, UseGraph graph, IReadOnlyCollection<string> rooms, string project)
    {
        text.Append("```mermaid\nflowchart TD\n");
        foreach (string room in rooms)
        {
            string name = room == project ? $"{room} itself" : room[(project.Length == 0 ? 0 : project.Length + 1)..];
            text.Append("  ").Append(Id(room)).Append("[\"").Append(name).Append("\"]\n");
            foreach (string used in graph.UsedBy(room).Where(rooms.Contains))
            {
                text.Append("  ").Append(Id(room)).Append(" --> ").Append(Id(used)).Append('\n');
            }
        }

        text.Append("```\n");
    }

    private static string Id(string room) => room.Replace('.', '_');

    private static string Listed(IEnumerable<string> rooms) => string.Join(", ", rooms) is { Length: > 0 } list ? list : "–";
}
