namespace ChargeAudit.Documents.Architecture;

/// <summary>Our types as they were compiled, and which of them use which.</summary>
/// <param name="Types">All types, nested ones counted as those that they stand in.</param>
/// <param name="Uses">The uses between them.</param>
public sealed record CompiledCode(IReadOnlySet<CompiledType> Types, IReadOnlySet<TypeUse> Uses)
{
    /// <summary>What the name of every project and namespace of ours starts with.</summary>
    public const string Root = "ChargeAudit";

    // The program's assembly goes by the program's name.
    private const string Program = "chargeaudit";

    /// <summary>The program and its libraries, as they lie in a folder.</summary>
    /// <param name="folder">A folder with the built program.</param>
    public static CompiledCode OfProgramIn(string folder) => AssemblyUses.Of(
        Directory.GetFiles(Path.GetFullPath(Path.Combine(GeneratedDocuments.RepositoryAbove(folder), "src")), "*.csproj",
            SearchOption.AllDirectories)
            .Select(p => Path.GetFileNameWithoutExtension(p) is var name && name == $"{Root}.Cli" ? Program : name)
            .Select(name => Path.Combine(folder, name + ".dll")));

    /// <summary>The graph of projects, by their names without what all have in common.</summary>
    public UseGraph Projects() => UseGraph.Of(this, ProjectOf);

    /// <summary>The graph of namespaces, by their names without what all have in common.</summary>
    public UseGraph Namespaces() => UseGraph.Of(this, t => Short(t.Namespace));

    /// <summary>The project that a type is in, by its name without what all have in common.</summary>
    /// <param name="type">The type.</param>
    public static string ProjectOf(CompiledType type) => type.Project == Program ? "Cli" : Short(type.Project);

    private static string Short(string name) => name[(Root.Length + 1)..];
}
