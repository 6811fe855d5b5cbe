using System.Collections.Frozen;
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
        where TEnum : struct, Enum => Names<TEnum>.All.TryGetValue(value, out string? name)
            ? name
            : throw new ArgumentException($"{typeof(TEnum).Name}.{value} has no stable name", nameof(value));

    private static class Names<TEnum>
        where TEnum : struct, Enum
    {
        public static readonly FrozenDictionary<TEnum, string> All = Named().ToFrozenDictionary();

        private static IEnumerable<KeyValuePair<TEnum, string>> Named() =>
            from member in typeof(TEnum).GetFields(BindingFlags.Public | BindingFlags.Static)
            let name = member.GetCustomAttribute<JsonStringEnumMemberNameAttribute>()
            where name is not null
            select KeyValuePair.Create((TEnum)member.GetValue(null)!, name.Name);
    }
}
