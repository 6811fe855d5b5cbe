using System.Globalization;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Units;

namespace ChargeAudit.Logs.FirstLook;

/// <summary>
/// A column of power, or a counter that energy rests on, whose unit is not named: the unit that its values fit is taken, with a doubt,
/// unless another column confirms it. Volts and amperes need no doubt, as what a charger's can be is known.
/// </summary>
internal static class UnitDoubts
{
    // No charger of a phone takes a kilowatt: more is milliwatts. Common practice, no source.
    private const double LargestW = 1000;

    /// <summary>Another column confirms a unit where it agrees within this factor. [1]</summary>
    private const double Agrees = 1.25;

    /// <summary>Decides the unit of a power column that has none: from a counter with a unit, else from its values. Call before the checks
    /// against other columns.</summary>
    /// <returns>Whether a column is now understood differently.</returns>
    public static bool SetPowerUnit(ColumnFinder.Found found, IReadOnlyList<SamplingFinder.Run> runs)
    {
        if (Unnamed(found, LogQuantity.Power) is not LogColumn power
            || (Has(found, LogQuantity.Voltage) && Has(found, LogQuantity.Current)))
        {
            return false;
        }

        double counted = Unnamed(found, LogQuantity.Energy) is null ? CountedByIntegral(runs) : 0;
        if (counted > 0)
        {
            string symbol = Fits(counted, 1e-3) ? "mW" : Fits(counted, 1e3) ? "kW" : "W";
            return symbol != "W" && Change(found, power, symbol, "the energy counter beside it, as its header names no unit");
        }

        return Largest(runs, LogQuantity.Power) > LargestW
            && Change(found, power, "mW", "its values, as its header names no unit: no charger takes so many watts");
    }

    /// <summary>Adds the doubts.</summary>
    public static void Add(ColumnFinder.Found found, IReadOnlyList<SamplingFinder.Run> runs)
    {
        bool product = Has(found, LogQuantity.Voltage) && Has(found, LogQuantity.Current);
        if (Unnamed(found, LogQuantity.Power) is LogColumn power)
        {
            bool counted = Has(found, LogQuantity.Energy) && Unnamed(found, LogQuantity.Energy) is null && Fits(CountedByIntegral(runs), 1);
            if (!product && !counted)
            {
                Doubt(found, power, Largest(runs, LogQuantity.Power) / power.Factor);
            }
        }
        else if (!Has(found, LogQuantity.Power) && !product)
        {
            LogQuantity rests = Has(found, LogQuantity.Energy) ? LogQuantity.Energy : LogQuantity.Charge;
            if (Unnamed(found, rests) is LogColumn counter)
            {
                Doubt(found, counter, Largest(runs, rests) / counter.Factor);
            }
        }
    }

    private static void Doubt(ColumnFinder.Found found, LogColumn column, double largest)
    {
        string upTo = WrittenMarks.Number(largest.ToString("0.####", CultureInfo.InvariantCulture));
        found.Ambiguities.Add(
            $"Column {LogErrors.Quote(column.Header)} names no unit; {column.Unit} was taken for its values up to {upTo}, and no other "
            + "column confirms it.");
    }

    private static LogColumn? Unnamed(ColumnFinder.Found found, LogQuantity quantity) =>
        Array.Find(found.Columns, c => c.Quantity == quantity && found.UnitAssumed.Contains(c.Index));

    private static bool Has(ColumnFinder.Found found, LogQuantity quantity) => Array.Exists(found.Columns, c => c.Quantity == quantity);

    private static double Largest(IReadOnlyList<SamplingFinder.Run> runs, LogQuantity quantity) =>
        runs.SelectMany(r => r.Values.TryGetValue(quantity, out double[]? v) ? v : []).Where(double.IsFinite).Select(Math.Abs)
            .DefaultIfEmpty(0).Max();

    private static bool Fits(double ratio, double wanted) => ratio > wanted / Agrees && ratio < wanted * Agrees;

    private static bool Change(ColumnFinder.Found found, LogColumn column, string symbol, string why)
    {
        bool known = UnitTable.TryFind(symbol, out Unit unit);
        found.Columns[column.Index] = column with { Unit = unit.Symbol, Factor = unit.Factor, Why = why };
        return known;
    }

    // The advance of the energy counter divided by the integral of power over the same rows; 0 where either is missing.
    private static double CountedByIntegral(IReadOnlyList<SamplingFinder.Run> runs)
    {
        double counted = 0, integral = 0;
        foreach (SamplingFinder.Run run in runs)
        {
            if (!run.Values.TryGetValue(LogQuantity.Power, out double[]? power)
                || !run.Values.TryGetValue(LogQuantity.Energy, out double[]? count))
            {
                continue;
            }

            for (int i = 1; i < power.Length; i++)
            {
                double step = count[i] - count[i - 1];
                double energy = 0.5 * (power[i] + power[i - 1]) * (run.TimesS[i] - run.TimesS[i - 1]);
                bool both = step >= 0 && double.IsFinite(energy);
                counted += both ? step : 0;
                integral += both ? energy : 0;
            }
        }

        return counted > 0 && integral > 0 ? counted / integral : 0;
    }
}
