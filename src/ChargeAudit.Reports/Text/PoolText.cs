using ChargeAudit.Metrology;
using ChargeAudit.Pooling.Results;

namespace ChargeAudit.Reports.Text;

/// <summary>Words for pooled figures.</summary>
public static class PoolText
{
    /// <summary>The name of a figure.</summary>
    public static string Name(PoolFigure figure) => figure switch
    {
        PoolFigure.OverheadRatio => "overhead ratio",
        PoolFigure.EnergyPerCharge => "energy per charge",
        PoolFigure.NoLoadPower => "power when waiting",
        PoolFigure.MaintenancePower => "power when full",
        PoolFigure.YearEnergy => "energy of a year",
        PoolFigure.ExtraYearEnergy => "extra energy of a year",
        _ => "extra cost of a year",
    };

    /// <summary>A figure with its charger.</summary>
    public static string Name(PooledFigure figure) => $"{Name(figure.Figure)}, {figure.Charger ?? "all chargers"}";

    /// <summary>A value with its interval.</summary>
    /// <param name="value">The value.</param>
    /// <param name="unit">Its unit; <c>1</c> or empty for none.</param>
    public static string Of(PooledValue value, string unit = "") => value is { Low: { } low, High: { } high }
        ? $"{Number(value.Value, high - low)}{Unit(unit)} ({Number(low, high - low)} to {Number(high, high - low)})"
        : FigureText.Plain(value.Value, unit);

    /// <summary>An interval alone.</summary>
    public static string Range(PooledValue value, string unit = "") => value is { Low: { } low, High: { } high }
        ? $"{Number(low, high - low)} to {Number(high, high - low)}{Unit(unit)}"
        : "not known";

    /// <summary>The spread between devices, in the figure's unit or in per cent.</summary>
    public static string Of(DeviceSpread spread, PooledFigure figure)
    {
        bool share = PoolRow.AsLogarithm(figure.Figure);
        double by = share ? 100 : 1;
        string unit = share ? "%" : figure.Unit;
        return $"{FigureText.Plain(by * spread.Reml, unit, 2)} by restricted maximum likelihood, "
            + $"{FigureText.Plain(by * spread.PauleMandel, unit, 2)} by Paule and Mandel (95 % interval "
            + $"{FigureText.Plain(by * spread.Low, "", 2)} to {FigureText.Plain(by * spread.High, unit, 2)})";
    }

    // The half-width of the interval has two significant digits, the value as many places.
    private static string Number(double value, double width)
    {
        int places = width > 0 ? Math.Clamp(1 - (int)Math.Floor(Math.Log10(0.5 * width)), 0, 10) : 4;
        return WrittenMarks.Number(value.ToString("F" + places.ToString(System.Globalization.CultureInfo.InvariantCulture),
            System.Globalization.CultureInfo.InvariantCulture));
    }

    private static string Unit(string unit) => unit is "" or "1" ? "" : " " + unit;
}
