using System.Globalization;
using System.Text;

namespace ChargeAudit.LogMaker.Meters;

/// <summary>Writes rows as a plain CSV log, as a user's logger would.</summary>
public static class CsvText
{
    /// <summary>The text.</summary>
    /// <param name="rows">The rows.</param>
    /// <param name="meter">The meter; it decides which columns there are and how many digits they print.</param>
    /// <param name="start">When the meter's clock showed zero; null writes elapsed seconds.</param>
    public static string Of(IReadOnlyList<LogRow> rows, MeterSheet meter, DateTimeOffset? start)
    {
        StringBuilder text = new();
        bool power = rows.Any(r => double.IsFinite(r.PowerW));
        bool voltage = rows.Any(r => double.IsFinite(r.Voltage));
        bool counter = meter.CounterStepWh > 0;
        string unit = meter.CounterStepWh >= 10 ? "kWh" : "Wh";
        double perUnit = unit == "kWh" ? 1000 : 1;
        text.Append(start is null ? "time (s)" : "time");
        text.Append(voltage ? ",voltage (V),current (A)" : "").Append(power ? ",power (W)" : "").Append(counter ? $",energy ({unit})" : "")
            .Append('\n');
        foreach (LogRow row in rows)
        {
            text.Append(start is { } s
                ? s.AddSeconds(row.TimeS).UtcDateTime.ToString("yyyy-MM-dd'T'HH:mm:ss.fff'Z'", CultureInfo.InvariantCulture)
                : (row.TimeS - rows[0].TimeS).ToString("0.000", CultureInfo.InvariantCulture));
            if (voltage)
            {
                text.Append(',').Append(Digits(row.Voltage, meter.VoltageStep)).Append(',').Append(Digits(row.Current, meter.CurrentStep));
            }

            if (power)
            {
                text.Append(',').Append(Digits(row.PowerW, meter.PowerStep));
            }

            if (counter)
            {
                text.Append(',').Append(Digits(row.CounterWh / perUnit, meter.CounterStepWh / perUnit));
            }

            text.Append('\n');
        }

        return text.ToString();
    }

    private static string Digits(double value, double step)
    {
        int places = step <= 0 ? 6 : Math.Clamp((int)Math.Ceiling(-Math.Log10(step) - 1e-9), 0, 9);
        string digits = value.ToString("F" + places.ToString(CultureInfo.InvariantCulture), CultureInfo.InvariantCulture);
        return digits.StartsWith('-') && digits.All(c => c is '-' or '0' or '.') ? digits[1..] : digits;
    }
}
