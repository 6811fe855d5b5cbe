using System.Reflection;
using System.Reflection.Emit;
using System.Runtime.CompilerServices;

namespace ChargeAudit.Tests.House;

/// <summary>
/// Which methods of the shipped assemblies can be reached from the program's entry, read from their compiled code. In doubt a
/// method counts as reached: whoever mentions a type may call whatever the type overrides or implements.
/// </summary>
internal sealed class Reachability
{
    private static readonly Dictionary<short, OpCode> Codes = typeof(OpCodes).GetFields(BindingFlags.Public | BindingFlags.Static)
        .Select(f => (OpCode)f.GetValue(null)!).ToDictionary(c => c.Value);

    private const BindingFlags Own =
        BindingFlags.Public | BindingFlags.NonPublic | BindingFlags.Instance | BindingFlags.Static | BindingFlags.DeclaredOnly;

    private readonly HashSet<(Guid Module, int Token)> _methods = [];
    private readonly HashSet<Type> _types = [];
    private readonly Stack<MethodBase> _open = new();

    /// <summary>Everything that starts at these methods.</summary>
    public Reachability(IEnumerable<MethodBase> roots)
    {
        foreach (var root in roots)
        {
            Reach(root);
        }

        while (_open.TryPop(out var next))
        {
            Follow(next);
        }
    }

    /// <summary>Assemblies of the project that an assembly needs, itself included.</summary>
    public static IReadOnlyList<Assembly> Shipped(Assembly program)
    {
        var found = new List<Assembly> { program };
        for (int i = 0; i < found.Count; i++)
        {
            found.AddRange(found[i].GetReferencedAssemblies().Where(n => n.Name!.StartsWith("ChargeAudit.", StringComparison.Ordinal))
                .Select(Assembly.Load).Where(a => !found.Contains(a)).ToList());
        }

        return found;
    }

    /// <summary>Methods that people wrote and nothing reaches, as <c>Type.Method</c> in order.</summary>
    public IReadOnlyList<string> Unreached(IEnumerable<Assembly> assemblies) =>
    [
        .. assemblies.SelectMany(a => a.GetTypes()).Where(t => !Made(t) && !t.IsInterface && !typeof(Delegate).IsAssignableFrom(t))
            .SelectMany(t => t.GetMethods(Own).Where(m => !Made(m) && !m.IsAbstract && !_methods.Contains(KeyOf(m))))
            .Select(m => $"{m.DeclaringType!.FullName}.{m.Name}").Distinct().Order(StringComparer.Ordinal),
    ];

    private static bool Made(MemberInfo member) => member.IsDefined(typeof(CompilerGeneratedAttribute))
        || member.IsDefined(typeof(System.CodeDom.Compiler.GeneratedCodeAttribute))
        || member.Name.Contains('<', StringComparison.Ordinal) || (member.DeclaringType is { } outer && Made(outer));

    private static bool IsOurs(Type type) => type.Assembly.GetName().Name!.StartsWith("ChargeAudit", StringComparison.OrdinalIgnoreCase);

    private void Reach(MethodBase method)
    {
        if (method.DeclaringType is not { } type)
        {
            return;
        }

        foreach (var argument in method.IsGenericMethod ? method.GetGenericArguments() : [])
        {
            Mention(argument);
        }

        Mention(type);
        if (IsOurs(type) && _methods.Add(KeyOf(method)))
        {
            _open.Push(type.Module.ResolveMethod(method.MetadataToken)!);
        }
    }

    private void Mention(Type type)
    {
        foreach (var argument in type.IsGenericType ? type.GetGenericArguments() : [])
        {
            Mention(argument);
        }

        if (type.HasElementType)
        {
            Mention(type.GetElementType()!);
            return;
        }

        var plain = type.IsGenericType ? type.GetGenericTypeDefinition() : type;
        if (plain.IsGenericParameter || !IsOurs(plain) || !_types.Add(plain))
        {
            return;
        }

        if (plain.BaseType is { } above)
        {
            Mention(above);
        }

        foreach (var method in plain.GetMethods(Own)
            .Where(m => m.IsVirtual).Concat<MethodBase>(plain.TypeInitializer is { } start ? [start] : []))
        {
            if (_methods.Add(KeyOf(method)))
            {
                _open.Push(method);
            }
        }
    }

    private void Follow(MethodBase method)
    {
        byte[] code = method.GetMethodBody()?.GetILAsByteArray() ?? [];
        Type[] ofType = method.DeclaringType!.IsGenericType ? method.DeclaringType.GetGenericArguments() : [];
        Type[] ofMethod = method.IsGenericMethod ? method.GetGenericArguments() : [];
        for (int i = 0; i < code.Length;)
        {
            short value = code[i++];
            var op = Codes[value == 0xFE ? unchecked((short)(0xFE00 | code[i++])) : value];
            if (op.OperandType is OperandType.InlineMethod or OperandType.InlineField or OperandType.InlineType or OperandType.InlineTok)
            {
                switch (method.Module.ResolveMember(BitConverter.ToInt32(code, i), ofType, ofMethod))
                {
                    case MethodBase called: Reach(called); break;
                    case Type named: Mention(named); break;
                    case FieldInfo field: Mention(field.DeclaringType!); Mention(field.FieldType); break;
                    default: break;
                }
            }

            i += op.OperandType switch
            {
                OperandType.InlineNone => 0,
                OperandType.ShortInlineBrTarget or OperandType.ShortInlineI or OperandType.ShortInlineVar => 1,
                OperandType.InlineVar => 2,
                OperandType.InlineI8 or OperandType.InlineR => 8,
                OperandType.InlineSwitch => 4 + (4 * BitConverter.ToInt32(code, i)),
                _ => 4,
            };
        }
    }

    // Reflection has several objects for one method: one of its type and one of each type derived or constructed from it.
    private static (Guid Module, int Token) KeyOf(MethodBase method) => (method.Module.ModuleVersionId, method.MetadataToken);
}
