using ChargeAudit.Cli.Hosting;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Studies;

namespace ChargeAudit.Cli.Settings;

/// <summary>The price that a user has set for all audits that are given none.</summary>
/// <param name="Tariff">The flat price with its currency.</param>
/// <param name="Words">Where it comes from, as a sentence for the report.</param>
internal sealed record SetTariff(Tariff Tariff, string Words)
{
    /// <summary>The price; null where none is set.</summary>
    /// <exception cref="InputException">A price is set without a currency.</exception>
    public static SetTariff? Of(CliHost host)
    {
        var settings = UserSettings.Of(host);
        if (settings[Setting.Price] is not { } price)
        {
            return null;
        }

        var currency = settings[Setting.Currency] ?? throw new InputException(InputProblem.Usage,
            $"{price.From} sets a price and no currency; set {Setting.Currency.Variable} to EUR or another code of ISO 4217, or the key "
            + $"{Setting.Currency.Key} in the file of settings");
        return new SetTariff(new Tariff(currency.Text, price.Number), InvariantText.Of(
            $"The price of a kilowatt-hour, {price.Number} {currency.Text}, was taken from {price.From}; nothing else states one."));
    }
}
