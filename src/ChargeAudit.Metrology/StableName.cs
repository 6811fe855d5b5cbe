using System.Collections.Frozen;
using System.Diagnostics.CodeAnalysis;
using System.Reflection;
using System.Text.Json.Serialization;

namespace ChargeAudit.Metrology;

/// <summary>The names that files and screens use for the members of an enum: written beside each member, so that a member can be renamed
/// and its name stays.</summary>
public static class StableName
{
    /// <summary>The name of a member, as its <see cref="JsonStringEnumMemberNameAttribute"/> says: <c>no-load</c> for a charger without a
    /// device.</summary>
    /// <param name="value">A defined member of an enum whose members are all named.</param>
    /// <exception cref="ArgumentException">The member has no name.</exception>
    public static string Of<TEnum>(TEnum value)
        where TEnum : struct, Enum => Enum.GetName(value) is { } member && Names<TEnum>.ByMember.TryGetValue(member, out string? name)
            ? name
            : throw new ArgumentException($"{typeof(TEnum).Name}.{value} has no stable name", nameof(value));

    // Kept by the member's own name: a table of values would be compiled anew for each enum, half a megabyte in all.
    private static FrozenDictionary<string, string> NamesOf(
        [DynamicallyAccessedMembers(DynamicallyAccessedMemberTypes.PublicFields)] Type type) =>
        (from member in type.GetFields(BindingFlags.Public | BindingFlags.Static)
         let name = member.GetCustomAttribute<JsonStringEnumMemberNameAttribute>()
         where name is not null
         select KeyValuePair.Create(member.Name, name.Name)).ToFrozenDictionary(StringComparer.Ordinal);

    private static class Names<TEnum>
        where TEnum : struct, Enum
    {
        public static readonly FrozenDictionary<string, string> ByMember = NamesOf(typeof(TEnum));
    }
}
