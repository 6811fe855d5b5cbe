using System.Globalization;
using System.Text;
using ChargeAudit.LogMaker.Chargers;
using ChargeAudit.LogMaker.Meters;

namespace ChargeAudit.LogMaker.Studies;

/// <summary>How a charger is used. </summary>
/// <param name="ChargesPerWeek">[1]</param>
/// <param name="HoursOnCharger">Each time, charge included. [h]</param>
/// <param name="PriceAKwh">In the currency.</param>
public sealed record UseOfIt(int ChargesPerWeek, double HoursOnCharger, double PriceAKwh)
{
    /// <summary>Energy of a year of 8760 h with the charger in the socket all the time. [kWh]</summary>
    public double YearKwh(double energyWh, double chargeS, double maintenanceW, double noLoadW)
    {
        double charges = ChargesPerWeek;
        double fullH = charges * (HoursOnCharger - (chargeS / 3600));
        double idleH = 168 - (charges * HoursOnCharger);
        return 8760.0 / 168 * ((charges * energyWh) + (fullH * maintenanceW) + (idleH * noLoadW)) / 1000;
    }
}

/// <summary>Writes a study file as a user would.</summary>
public static class Toml
{
    /// <summary>The text.</summary>
    /// <param name="meters">Meters by name.</param>
    /// <param name="runs">Method of each run and its logs: file and meter at each place.</param>
    /// <param name="standby">The same for logs of waiting.</param>
    /// <param name="use">How it is used.</param>
    public static string Of(
        IEnumerable<MeterSheet> meters,
        IEnumerable<(string Method, IReadOnlyList<(MeterSheet Meter, string File)> Logs)> runs,
        IEnumerable<(string Method, IReadOnlyList<(MeterSheet Meter, string File)> Logs)> standby,
        UseOfIt use)
    {
        StringBuilder text = new("title = \"An invented device\"\nreference = \"cable\"\n\n");
        foreach (MeterSheet meter in meters)
        {
            text.Append(OfMeter(meter)).Append('\n');
        }

        text.Append("[methods.cable]\nkind = \"wired\"\n\n[methods.pad]\nkind = \"inductive\"\n\n");
        foreach ((string method, IReadOnlyList<(MeterSheet, string)> logs) in runs)
        {
            text.Append(CultureInfo.InvariantCulture,
                $"[[runs]]\nmethod = \"{method}\"\nlogs = {{ {Logs(logs)} }}\nstart-charge = 5\nend-charge = 100\n\n");
        }

        foreach ((string method, IReadOnlyList<(MeterSheet, string)> logs) in standby)
        {
            text.Append(CultureInfo.InvariantCulture, $"[[standby]]\nmethod = \"{method}\"\nlogs = {{ {Logs(logs)} }}\n\n");
        }

        text.Append(CultureInfo.InvariantCulture,
            $"[use]\ncharges-per-week = {use.ChargesPerWeek}\nhours-on-charger-per-charge = {use.HoursOnCharger}\nplugged-in-all-day = "
            + $"true\n\n");
        text.Append(CultureInfo.InvariantCulture, $"[tariff]\ncurrency = \"EUR\"\nprice = {use.PriceAKwh}\n");
        return text.ToString();
    }

    /// <summary>The table of one meter.</summary>
    public static string OfMeter(MeterSheet meter) =>
        $"[meters.{meter.Name}]\npoint = \"{Word(meter.Place)}\"\naccuracy = {{ {Accuracy(meter)} }}\n"
        + (meter.Kind == RowKind.CounterOnly ? "" : $"samples = \"{Word(meter.Kind)}\"\n");

    private static string Logs(IEnumerable<(MeterSheet Meter, string File)> logs) =>
        string.Join(", ", logs.Select(l => $"{Word(l.Meter.Place)} = {{ file = \"{l.File}\", meter = \"{l.Meter.Name}\" }}"));

    private static string Accuracy(MeterSheet meter)
    {
        string power = Stated(meter.PowerLimit, "W") + (meter.StepStated ? $" resolution {Number(meter.PowerStep)} W" : "");
        string energy = Number(100 * meter.PowerLimit.Gain) + " %";
        return meter.OnDirectCurrent ? $"voltage = \"{Stated(meter.VoltageLimit, "V")}\", current = \"{Stated(meter.CurrentLimit, "A")}\""
            + (meter.CounterStepWh > 0 ? $", energy = \"{Number(100 * (meter.VoltageLimit.Gain + meter.CurrentLimit.Gain))} %\"" : "")
            : meter.Kind == RowKind.CounterOnly ? $"energy = \"{energy}\""
            : meter.CounterStepWh > 0 ? $"power = \"{power}\", energy = \"{energy}\""
            : $"power = \"{power}\"";
    }

    private static string Stated(Limit limit, string unit) => $"{Number(100 * limit.Gain)} % + {Number(1000 * limit.Offset)} m{unit}";

    private static string Number(double value) => Math.Round(value, 9).ToString(CultureInfo.InvariantCulture);

    private static string Word(Place place) => place == Place.Wall ? "wall" : "usb";

    private static string Word(RowKind kind) => kind switch
    {
        RowKind.AverageEnding => "average-ending",
        RowKind.AverageStarting => "average-starting",
        RowKind.OnChange => "on-change",
        _ => "instantaneous",
    };
}
