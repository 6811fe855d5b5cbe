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
    private readonly MetadataReader _metadata;
    private readonly PEReader _file;
    private readonly string _project;
    private readonly Func<string, bool> _ours;
    private readonly HashSet<TypeUse> _uses = [];
    private readonly HashSet<CompiledType> _types = [];

    private AssemblyUses(PEReader file, Func<string, bool> ours)
    {
        _file = file;
        _ours = ours;
        _metadata = file.GetMetadataReader();
        _project = _metadata.GetString(_metadata.GetAssemblyDefinition().Name);
    }

    /// <summary>The types of the given assemblies and the uses between them.</summary>
    /// <param name="assemblies">The paths of the assemblies; what they use of any other is left out, and so is what compilers put in on
    /// their own account.</param>
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
            types.UnionWith(one._types);
            uses.UnionWith(one._uses);
        }

        return new CompiledCode(types, uses);
    }

    private void Read()
    {
        foreach (var handle in _metadata.TypeDefinitions)
        {
            if (Named(handle) is not { } from || !Written(from))
            {
                continue;
            }

            _types.Add(from);
            var type = _metadata.GetTypeDefinition(handle);
            var names = new NamesInSignature(this, from);
            names.Add(type.BaseType);
            Attributes(type.GetCustomAttributes(), names);
            Constraints(type.GetGenericParameters(), names);
            foreach (var implemented in type.GetInterfaceImplementations())
            {
                names.Add(_metadata.GetInterfaceImplementation(implemented).Interface);
            }

            foreach (var field in type.GetFields())
            {
                var definition = _metadata.GetFieldDefinition(field);
                definition.DecodeSignature(names, null);
                Attributes(definition.GetCustomAttributes(), names);
            }

            foreach (var property in type.GetProperties())
            {
                Attributes(_metadata.GetPropertyDefinition(property).GetCustomAttributes(), names);
            }

            foreach (var method in type.GetMethods())
            {
                Method(_metadata.GetMethodDefinition(method), names);
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

        var body = _file.GetMethodBody(method.RelativeVirtualAddress);
        if (!body.LocalSignature.IsNil)
        {
            _metadata.GetStandaloneSignature(body.LocalSignature).DecodeLocalSignature(names, null);
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
            names.Add(_metadata.GetCustomAttribute(attribute).Constructor);
        }
    }

    private void Constraints(GenericParameterHandleCollection parameters, NamesInSignature names)
    {
        foreach (var constraint in parameters.SelectMany(p => _metadata.GetGenericParameter(p).GetConstraints()))
        {
            names.Add(_metadata.GetGenericParameterConstraint(constraint).Type);
        }
    }

    private static bool Written(CompiledType type) => type.Namespace.StartsWith(CompiledCode.Root, StringComparison.Ordinal)
        && !type.Name.StartsWith('<');

    private CompiledType? Named(TypeDefinitionHandle handle)
    {
        var type = _metadata.GetTypeDefinition(handle);
        for (; !type.GetDeclaringType().IsNil; type = _metadata.GetTypeDefinition(type.GetDeclaringType()))
        {
        }

        return new CompiledType(_project, _metadata.GetString(type.Namespace), _metadata.GetString(type.Name));
    }

    private CompiledType? Named(TypeReferenceHandle handle)
    {
        var type = _metadata.GetTypeReference(handle);
        while (type.ResolutionScope.Kind == HandleKind.TypeReference)
        {
            type = _metadata.GetTypeReference((TypeReferenceHandle)type.ResolutionScope);
        }

        if (type.ResolutionScope.Kind != HandleKind.AssemblyReference)
        {
            return null;
        }

        string assembly = _metadata.GetString(_metadata.GetAssemblyReference((AssemblyReferenceHandle)type.ResolutionScope).Name);
        return _ours(assembly) ? new CompiledType(assembly, _metadata.GetString(type.Namespace), _metadata.GetString(type.Name)) : null;
    }
}
