using System.Globalization;

namespace ChargeAudit.Metrology.Quantities;

/// <summary>
/// An amount of money in one currency. The default value is zero of no currency, which joins with any. Amounts of different currencies
/// never add up:
/// no rate is assumed. Immutable.
/// </summary>
public readonly record struct MoneyAmount : IFormattable
{
    private readonly string? _currency;

    private MoneyAmount(double amount, string currency)
    {
        Amount = amount;
        _currency = currency;
    }

    /// <summary>How much, in whole units of <see cref="Currency"/>.</summary>
    public double Amount { get; }

    /// <summary>ISO 4217 code; empty for the default value.</summary>
    public string Currency => _currency ?? "";

    /// <summary>An amount in a currency.</summary>
    /// <param name="amount">How much. [currency]</param>
    /// <param name="currency">ISO 4217 code: three capital letters.</param>
    /// <exception cref="ArgumentException">The code is not three capital letters.</exception>
    public static MoneyAmount Of(double amount, string currency) => currency is { Length: 3 } && currency.All(char.IsAsciiLetterUpper)
        ? new(amount, currency)
        : throw new ArgumentException($"'{currency}' is no ISO 4217 code of three capital letters", nameof(currency));

    /// <summary>What an energy costs at a flat price.</summary>
    /// <param name="energy">The energy bought.</param>
    /// <param name="pricePerKwh">Price of a kilowatt-hour. [currency/kWh]</param>
    /// <param name="currency">ISO 4217 code.</param>
    public static MoneyAmount For(Energy energy, double pricePerKwh, string currency) => Of(energy.KilowattHours * pricePerKwh, currency);

    /// <summary>Sum; both must be of one currency.</summary>
    /// <exception cref="InvalidOperationException">The currencies differ.</exception>
    public static MoneyAmount operator +(MoneyAmount a, MoneyAmount b) => new(a.Amount + b.Amount, Joint(a, b));

    /// <summary>Difference; both must be of one currency.</summary>
    /// <exception cref="InvalidOperationException">The currencies differ.</exception>
    public static MoneyAmount operator -(MoneyAmount a, MoneyAmount b) => new(a.Amount - b.Amount, Joint(a, b));

    /// <summary>Multiple.</summary>
    public static MoneyAmount operator *(double factor, MoneyAmount a) => new(factor * a.Amount, a.Currency);

    /// <summary>The amount with two decimals and its currency, in the invariant culture.</summary>
    public override string ToString() => ToString(null, null);

    /// <summary>The amount in a numeric format with its currency; invariant where no culture is given.</summary>
    public string ToString(string? format, IFormatProvider? formatProvider) =>
        (Amount.ToString(format ?? "F2", formatProvider ?? CultureInfo.InvariantCulture) + " " + Currency).TrimEnd();

    private static string Joint(MoneyAmount a, MoneyAmount b)
    {
        if (a.Currency.Length == 0 || b.Currency.Length == 0 || a.Currency == b.Currency)
        {
            return a.Currency.Length == 0 ? b.Currency : a.Currency;
        }

        throw new InvalidOperationException($"{a.Currency} and {b.Currency} do not add up without a rate of exchange");
    }
}
