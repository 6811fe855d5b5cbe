using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;

namespace ChargeAudit.Comparing.Yearly;

/// <summary>A currency. <i>Source:</i> ISO 4217; the list is in currencies.tsv with where each row was read.</summary>
/// <param name="Code">Three capital letters.</param>
/// <param name="Digits">Digits of the minor unit: 2 for cents, 0 where there is none.</param>
public sealed record Currency(string Code, int Digits)
{
    /// <summary>First day on which it is no longer the currency of its country; null: it is, as far as is known here.</summary>
    public DateOnly? EndsOn { get; private init; }

    /// <summary>Code of the currency that came after it; null where it has not ended.</summary>
    public string? Successor { get; private init; }

    /// <summary>That it has ended, as a sentence; null where it has not.</summary>
    public string? Ended => EndsOn is { } day
        ? Prose.Of($"{Code} ended on {day:yyyy-MM-dd} and {Successor} took its place; a price of today is in {Successor}.")
        : null;

    private static readonly Lazy<Dictionary<string, Currency>> Table = new(Read);

    /// <summary>All currencies, in order of code.</summary>
    public static IReadOnlyCollection<Currency> All => Table.Value.Values;

    /// <summary>The currency with a code in capital letters; null where no currency has it.</summary>
    /// <param name="code">The code.</param>
    public static Currency? Find(string code) => Table.Value.GetValueOrDefault(code);

    /// <summary>The currency with a code; small letters will do.</summary>
    /// <param name="code">Code as the user wrote it.</param>
    /// <exception cref="InputException">No currency has this code.</exception>
    public static Currency Of(string code)
    {
        string capital = code.Trim().ToUpperInvariant();
        if (Table.Value.TryGetValue(capital, out var found))
        {
            return found;
        }

        string near = string.Join(", ", Table.Value.Keys.Where(k => Common(k, capital) >= 2).Take(5));
        throw new InputException(
            InputProblem.Unusable,
            $"[tariff] currency is '{code}', expected an ISO 4217 code such as EUR, USD or "
                + $"JPY{(near.Length == 0 ? string.Empty : "; near it are " + near)}");
    }

    private static int Common(string a, string b) => a.Zip(b).Count(p => p.First == p.Second);

    private static Dictionary<string, Currency> Read()
    {
        var table = new Dictionary<string, Currency>(StringComparer.Ordinal);
        foreach (string[] fields in BuiltIn.Rows(typeof(Currency).Assembly, "ChargeAudit.Comparing.Yearly.currencies.tsv").Skip(1))
        {
            bool ended = fields.Length > 3;
            table.Add(fields[0], new Currency(fields[0], fields[1][0] - '0')
            {
                EndsOn = ended ? DateOnly.ParseExact(fields[3], "yyyy-MM-dd", System.Globalization.CultureInfo.InvariantCulture) : null,
                Successor = ended ? fields[4] : null,
            });
        }

        return table;
    }
}
