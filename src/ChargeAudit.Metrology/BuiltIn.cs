using System.Reflection;

namespace ChargeAudit.Metrology;

/// <summary>Texts and tables that travel inside an assembly.</summary>
internal static class BuiltIn
{
    /// <summary>A text as it was built in.</summary>
    /// <param name="holder">The assembly that holds it.</param>
    /// <param name="name">Its name there.</param>
    public static string Text(Assembly holder, string name)
    {
        using var reader = Reader(holder, name);
        return reader.ReadToEnd();
    }

    /// <summary>The rows of a table with tabs between its fields; empty lines and those that start with # are remarks.</summary>
    /// <param name="holder">The assembly that holds it.</param>
    /// <param name="name">Its name there.</param>
    public static IEnumerable<string[]> Rows(Assembly holder, string name)
    {
        using var reader = Reader(holder, name);
        while (reader.ReadLine() is { } line)
        {
            if (line.Length > 0 && line[0] != '#')
            {
                yield return line.Split('\t');
            }
        }
    }

    private static StreamReader Reader(Assembly holder, string name) => new(holder.GetManifestResourceStream(name)
        ?? throw new InvalidOperationException($"{name} is missing from {holder.GetName().Name}"));
}
