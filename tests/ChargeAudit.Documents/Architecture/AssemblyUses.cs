using System.Reflection.Metadata;
using System.Reflection.Metadata.Ecma335;
using System.Reflection.PortableExecutable;

namespace ChargeAudit.Documents.Architecture;

/// <summary>
/// Which types of our assemblies use which, read from the compiled files (ECMA-335, part II); nothing of them is loaded or run.
/// Constants leave no trace in compiled code, so a use of nothing but a constant is not seen.
/// </summary>
public sealed partial class AssemblyUses
{
    private readonly MetadataReader metadata;
    private readonly PEReader file;
    private readonly string project;
    private readonly Func<string, bool> ours;
    private readonly HashSet<TypeUse> uses = [];
    private readonly HashSet<CompiledType> types = [];

    private AssemblyUses(PEReader file, Func<string, bool> ours)
    {
        this.file = file;
        this.ours = ours;
        metadata = file.GetMetadataReader();
        project = metadata.GetString(metadata.GetAssemblyDefinition().Name);
    }

    /// <summary>The types of the given assemblies and the uses between them.</summary>
    /// <param name="assemblies">The paths of the assemblies; what they use of any other is left out, and so is what compilers put in on their own account.</param>
    public static CompiledCode Of(IEnumerable<string> assemblies)
    {
        var paths = assemblies.ToList();
        var names = paths.Select(p => Path.GetFileNameWithoutExtension(p)).ToHashSet(StringComparer.Ordinal);
        var types = new HashSet<CompiledType>();
        var uses = new HashSet<TypeUse>();
        foreach (string path in paths)
        {
            using var file = new PEReader(File.OpenRead(path));
            var one = new AssemblyUses(file, names.Contains);
            one.Read();
            types.UnionWith(one.types);
            uses.UnionWith(one.uses);
        }

        return new CompiledCode(types, uses);
    }

    private void Read()
    {
        foreach (var handle in metadata.TypeDefinitions)
        {
            if (Named(handle) is not { } from || !Written(from))
            {
                continue;
            }

            types.Add(from);
            var type = metadata.GetTypeDefinition(handle);
            var names = new NamesInSignature(this, from);
            names.Add(type.BaseType);
            Attributes(type.GetCustomAttributes(), names);
            Constraints(type.GetGenericParameters(), names);
            foreach (var implemented in type.GetInterfaceImplementations())
            {
                names.Add(metadata.GetInterfaceImplementation(implemented).Interface);
            }

            foreach (var field in type.GetFields())
            {
                var definition = metadata.GetFieldDefinition(field);
                definition.DecodeSignature(names, null);
                Attributes(definition.GetCustomAttributes(), names);
            }

            foreach (var property in type.GetProperties())
            {
                Attributes(metadata.GetPropertyDefinition(property).GetCustomAttributes(), names);
            }

            foreach (var method in type.GetMethods())
            {
                Method(metadata.GetMethodDefinition(method), names);
            }
        }
    }

    private void Method(MethodDefinition method, NamesInSignature names)
    {
        method.DecodeSignature(names, null);
        Attributes(method.GetCustomAttributes(), names);
        Constraints(method.GetGenericParameters(), names);
        if (method.RelativeVirtualAddress == 0)
        {
            return;
        }

        var body = file.GetMethodBody(method.RelativeVirtualAddress);
        if (!body.LocalSignature.IsNil)
        {
            metadata.GetStandaloneSignature(body.LocalSignature).DecodeLocalSignature(names, null);
        }

        foreach (var region in body.ExceptionRegions)
        {
            names.Add(region.CatchType);
        }

        foreach (int token in InstructionTokens.Of(body.GetILReader()))
        {
            names.Add(MetadataTokens.EntityHandle(token));
        }
    }

    private void Attributes(CustomAttributeHandleCollection attributes, NamesInSignature names)
    {
        foreach (var attribute in attributes)
        {
            names.Add(metadata.GetCustomAttribute(attribute).Constructor);
        }
    }

    private void Constraints(GenericParameterHandleCollection parameters, NamesInSignature names)
    {
        foreach (var constraint in parameters.SelectMany(p => metadata.GetGenericParameter(p).GetConstraints()))
        {
            names.Add(metadata.GetGenericParameterConstraint(constraint).Type);
        }
    }

    private static bool Written(CompiledType type) => type.Namespace.StartsWith(CompiledCode.Root, StringComparison.Ordinal) && !type.Name.StartsWith('<');

    private CompiledType? Named(TypeDefinitionHandle handle)
    {
        var type = metadata.GetTypeDefinition(handle);
        for (; !type.GetDeclaringType().IsNil; type = metadata.GetTypeDefinition(type.GetDeclaringType()))
        {
        }

        return new CompiledType(project, metadata.GetString(type.Namespace), metadata.GetString(type.Name));
    }

    private CompiledType? Named(TypeReferenceHandle handle)
    {
        var type = metadata.GetTypeReference(handle);
        while (type.ResolutionScope.Kind == HandleKind.TypeReference)
        {
            type = metadata.GetTypeReference((TypeReferenceHandle)type.ResolutionScope);
        }

        if (type.ResolutionScope.Kind != HandleKind.AssemblyReference)
        {
            return null;
        }

        string assembly = metadata.GetString(metadata.GetAssemblyReference((AssemblyReferenceHandle)type.ResolutionScope).Name);
        return ours(assembly) ? new CompiledType(assembly, metadata.GetString(type.Namespace), metadata.GetString(type.Name)) : null;
    }
}
