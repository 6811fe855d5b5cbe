using System.Text;

namespace ChargeAudit.Metrology;

/// <summary>The names that files and screens use for the members of an enum: kebab-case, the same for ever.</summary>
public static class StableName
{
    /// <summary>The kebab-case name of a member: <c>no-load</c> for <c>NoLoad</c>.</summary>
    /// <param name="value">A defined member.</param>
    public static string Of<TEnum>(TEnum value)
        where TEnum : struct, Enum
    {
        string name = value.ToString();
        var text = new StringBuilder(name.Length + 4);
        foreach (char c in name)
        {
            if (char.IsAsciiLetterUpper(c) && text.Length > 0)
            {
                text.Append('-');
            }

            text.Append(char.ToLowerInvariant(c));
        }

        return text.ToString();
    }
}
