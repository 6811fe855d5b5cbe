using System.Globalization;
using ChargeAudit.Metrology;

namespace ChargeAudit.Cli.Settings;

/// <summary>
/// A default that a user sets once, in the environment or in a file of their own. A new one is one more line in <see cref="All"/>, and
/// whoever uses it asks <see cref="UserSettings"/> for it.
/// </summary>
/// <param name="Key">Its key in the file.</param>
/// <param name="Meaning">What it is, and where it holds.</param>
/// <param name="Example">A line of the file.</param>
/// <param name="Fault">What is wrong with a text for it; null where nothing is.</param>
internal sealed record Setting(string Key, string Meaning, string Example, Func<string, string?> Fault)
{
    /// <summary>Separates the parts of a setting that may have several, in the environment.</summary>
    public const char Separator = ';';

    public static readonly Setting Price =
        new("price", "price of a kilowatt-hour, where neither the study nor --price says one", "price = 0.31", PriceFault);

    public static readonly Setting Currency =
        new("currency", "currency of the price, also of --price without --currency", "currency = \"EUR\"",
            text => text.Length == 3 && text.All(char.IsAsciiLetterUpper)
                ? null
                : "a currency code of three capital letters (ISO 4217) was expected, such as EUR");

    public static readonly Setting Accuracy =
        new("accuracy", "the meter's accuracy, where measure and watch are given no --accuracy",
            "accuracy = [\"power=0.5 % + 10 mW\"]", text => MeterAccuracies.Fault(Parts(text)));

    public static readonly Setting Locale =
        new("locale", "numbers and dates of texts for people, where there is no --locale", "locale = \"de\"",
            text => WrittenForm.Find(text) is not null
                ? null
                : $"one of {string.Join(", ", WrittenForm.All.Select(f => f.Tag))} was expected");

    /// <summary>All of them, in the order in which they are shown.</summary>
    public static readonly IReadOnlyList<Setting> All = [Price, Currency, Accuracy, Locale];

    /// <summary>The environment variable that sets it.</summary>
    public string Variable => $"CHARGEAUDIT_{Key.ToUpperInvariant().Replace('-', '_')}";

    /// <summary>The parts of a setting that may have several.</summary>
    public static string[] Parts(string text) =>
        text.Split(Separator, StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries);

    private static string? PriceFault(string text) =>
        double.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out double price) && double.IsFinite(price) && price >= 0
            ? null
            : "a number from 0 up with a decimal point was expected, such as 0.31";
}
