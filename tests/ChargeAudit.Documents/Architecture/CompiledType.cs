namespace ChargeAudit.Documents.Architecture;

/// <summary>A type as it was compiled: nested and compiler-made types count as the one that they stand in.</summary>
/// <param name="Project">The assembly that it is in.</param>
/// <param name="Namespace">Its namespace; empty in the global one.</param>
/// <param name="Name">Its name, with the number of its type parameters where it has any.</param>
public readonly record struct CompiledType(string Project, string Namespace, string Name)
{
    /// <summary>Namespace and name.</summary>
    public override string ToString() => Namespace.Length == 0 ? Name : $"{Namespace}.{Name}";
}

/// <summary>One type needs another: its base, its members, what its code calls, or an attribute on it.</summary>
/// <param name="From">The type that needs the other.</param>
/// <param name="To">The type that is needed.</param>
public readonly record struct TypeUse(CompiledType From, CompiledType To);
