using System.Globalization;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Units;

namespace ChargeAudit.Logs.FirstLook;

/// <summary>
/// Checks against the data themselves what the header says: whether power is voltage times current, whether a counter counts, whether a
/// column without a unit is in the unit that was assumed. Assumed units are corrected; named ones are only doubted.
/// </summary>
internal sealed class DataChecks
{
    private const double Near = 1.25;
    private static readonly string[] CounterUnits = ["mWh", "kWh", "J"];
    private readonly ColumnFinder.Found _found;
    private readonly IReadOnlyList<SamplingFinder.Run> _runs;
    private readonly MeasuringPoint? _point;

    private DataChecks(ColumnFinder.Found found, IReadOnlyList<SamplingFinder.Run> runs, MeasuringPoint? point)
    {
        _found = found;
        _runs = runs;
        _point = point;
    }

    /// <summary>Applies all checks.</summary>
    /// <returns>Whether a column is now understood differently.</returns>
    public static bool Apply(ColumnFinder.Found found, IReadOnlyList<SamplingFinder.Run> runs, LogOptions options)
    {
        var checks = new DataChecks(found, runs, options.Point);
        bool changed = checks.Magnitude(LogQuantity.Voltage, 1000, "mV") | checks.Magnitude(LogQuantity.Current, 100, "mA");
        return checks.Counter(LogQuantity.Energy) | checks.Counter(LogQuantity.Charge) | (!changed
            && checks.PowerAgainstProduct()) | (!changed && checks.CounterAgainstPower()) | changed;
    }

    // No charger runs at a kilovolt or takes a hundred amperes.
    private bool Magnitude(LogQuantity quantity, double limit, string unit)
    {
        // The middle value lies within the limit where more than half do: usually there is nothing to correct.
        int some = 0, within = 0;
        foreach (SamplingFinder.Run run in _runs)
        {
            foreach (double value in run.Values.TryGetValue(quantity, out double[]? all) ? all : [])
            {
                bool counts = double.IsFinite(value) && value != 0;
                some += counts ? 1 : 0;
                within += counts && Math.Abs(value) <= limit ? 1 : 0;
            }
        }

        if (within > some / 2 || some == 0 || !Assumed(quantity, out LogColumn? column))
        {
            return false;
        }

        double[] values = [.. Values(quantity).Select(Math.Abs).Where(v => v > 0).Order()];
        string typical = WrittenMarks.Number(values[values.Length / 2].ToString("0.###", CultureInfo.InvariantCulture));
        Change(column, unit, $"its values: {typical} {column.Unit} is no charger's {ColumnFinder.Word(quantity)}");
        _found.Ambiguities.Add(
            $"Column {LogErrors.Quote(column.Header)} names no unit; {unit} was taken, as values around {typical} {column.Unit} are no "
            + $"charger's {ColumnFinder.Word(quantity)}.");
        return true;
    }

    private bool PowerAgainstProduct()
    {
        double[] ratios = [.. Products().Where(p => p.Power > 0 && p.Product > 0).Select(p => p.Power / p.Product).Order()];
        if (ratios.Length < 3 || Column(LogQuantity.Power) is not LogColumn power)
        {
            return false;
        }

        double ratio = ratios[ratios.Length / 2];
        bool wall = _point is MeasuringPoint.Wall || (_point is null && MedianVoltage() > 60);
        if (wall && ApparentPowerColumn.IsProduct(_runs))
        {
            _found.Ambiguities.Add(
                $"Column {LogErrors.Quote(power.Header)} equals voltage × current to the last digit, which on the mains is apparent power "
                + "(VA) and not the energy taken; the figures are probably too high.");
            return false;
        }

        if (IsNear(ratio, 1) || (wall && ratio < 1 && ratio > 0.02))
        {
            return false;
        }

        if (Assumed(LogQuantity.Power, out _) && IsNear(ratio, 1000))
        {
            Change(power, "mW", "voltage × current, as its header names no unit");
            _found.Ambiguities.Add(
                $"Column {LogErrors.Quote(power.Header)} names no unit; mW was taken, as its values are 1000 times voltage × current.");
            return true;
        }

        string times = WrittenMarks.Number(ratio.ToString("0.####", CultureInfo.InvariantCulture));
        _found.Ambiguities.Add(
            $"Column {LogErrors.Quote(power.Header)} is about {times} times voltage × current; its unit, or that of another column, may "
            + "not be what the header says.");
        return false;
    }

    private bool Counter(LogQuantity quantity)
    {
        if (Column(quantity) is not LogColumn column)
        {
            return false;
        }

        long steps = 0;
        long turns = 0;
        double before = 0;
        foreach (SamplingFinder.Run run in _runs)
        {
            double[] values = WithoutBadReadings(run.Values[quantity]);
            for (int i = 1; i < values.Length; i++)
            {
                double step = values[i] - values[i - 1];
                if (step != 0 && !double.IsNaN(step))
                {
                    steps++;
                    turns += step * before < 0 ? 1 : 0;
                    before = step;
                }
            }
        }

        // A counter turns where it is reset, or where a battery begins to discharge; a reading turns all the time.
        if (steps < 8 || turns <= 0.2 * steps)
        {
            return false;
        }

        _found.Columns[column.Index] = column with { Quantity = LogQuantity.Ignored, Why = "goes up and down, so it is no counter" };
        _found.Ambiguities.Add(
            $"Column {LogErrors.Quote(column.Header)} goes up and down as no counter of {ColumnFinder.Word(quantity)} does; it was "
            + "not used.");
        return true;
    }

    // A few readings off the track do not make it any less a counter. Where many would have to go, all are judged.
    internal static double[] WithoutBadReadings(double[] values)
    {
        const int LookAhead = 31;
        var kept = new List<double>(values.Length);
        for (int i = 0; i < values.Length; i++)
        {
            double before = kept.Count > 0 ? kept[^1] : double.NegativeInfinity;
            bool dip = values[i] < before
                && values.AsSpan(i + 1, Math.Min(LookAhead, values.Length - i - 1)).IndexOfAnyInRange(before, double.MaxValue) >= 0;
            bool peak = i + 1 < values.Length && values[i] > values[i + 1] && values[i + 1] >= before && kept.Count > 0;
            if (!dip && !peak)
            {
                kept.Add(values[i]);
            }
        }

        return kept.Count >= 0.7 * values.Length ? [.. kept] : values;
    }

    private bool CounterAgainstPower()
    {
        if (Column(LogQuantity.Energy) is not LogColumn column)
        {
            return false;
        }

        double counted = 0;
        double integral = 0;
        foreach (SamplingFinder.Run run in _runs)
        {
            double[] counter = run.Values[LogQuantity.Energy];
            double[]? power = PowerOf(run);
            for (int i = 1; power is not null && i < counter.Length; i++)
            {
                double step = counter[i] - counter[i - 1];
                double energyJ = (run.TimesS[i] - run.TimesS[i - 1]) * (power[i] + power[i - 1]) / 2;
                if (step >= 0 && energyJ >= 0)
                {
                    counted += step;
                    integral += energyJ;
                }
            }
        }

        if (counted <= 0 || integral <= 0 || IsNear(counted / integral, 1))
        {
            return false;
        }

        string[] fitting = [
            .. CounterUnits.Where(u => UnitTable.TryFind(u, out Unit unit) && IsNear(counted / integral * unit.Factor / column.Factor, 1))];
        if (fitting.Length == 1 && _found.UnitAssumed.Contains(column.Index))
        {
            Change(column, fitting[0], "the energy of the power beside it, as its header names no unit");
            _found.Ambiguities.Add(
                $"Column {LogErrors.Quote(column.Header)} names no unit; {fitting[0]} was taken, as that fits the power beside it.");
            return true;
        }

        string times = WrittenMarks.Number((counted / integral).ToString("0.###", CultureInfo.InvariantCulture));
        _found.Notes.Add(
            $"Over the rows looked at, the counter {LogErrors.Quote(column.Header)} moves by {times} times the energy of the power beside "
            + "it; its unit may not be what the header says, or its step is coarse.");
        return false;
    }

    private static bool IsNear(double ratio, double wanted) => ratio > wanted / Near && ratio < wanted * Near;

    private double[]? PowerOf(SamplingFinder.Run run)
    {
        if (run.Values.TryGetValue(LogQuantity.Power, out double[]? power))
        {
            return power;
        }

        bool direct = _point is not MeasuringPoint.Wall && MedianVoltage() <= 60;
        return direct && run.Values.TryGetValue(LogQuantity.Voltage, out double[]? v)
            && run.Values.TryGetValue(LogQuantity.Current, out double[]? a)
            ? [.. v.Zip(a, (x, y) => x * y)]
            : null;
    }

    private double MedianVoltage()
    {
        double[] values = [.. Values(LogQuantity.Voltage).Order()];
        return values.Length == 0 ? 0 : values[values.Length / 2];
    }

    private IEnumerable<(double Power, double Product)> Products() => _runs
        .Where(r => r.Values.ContainsKey(LogQuantity.Power) && r.Values.ContainsKey(LogQuantity.Voltage)
            && r.Values.ContainsKey(LogQuantity.Current))
        .SelectMany(r => r.Values[LogQuantity.Power]
            .Select((p, i) => (p, r.Values[LogQuantity.Voltage][i] * r.Values[LogQuantity.Current][i])));

    private IEnumerable<double> Values(LogQuantity quantity) =>
        _runs.SelectMany(r => r.Values.TryGetValue(quantity, out double[]? v) ? v : []).Where(double.IsFinite);

    private LogColumn? Column(LogQuantity quantity) => Array.Find(_found.Columns, c => c.Quantity == quantity);

    private bool Assumed(LogQuantity quantity, [System.Diagnostics.CodeAnalysis.NotNullWhen(true)] out LogColumn? column)
    {
        column = Column(quantity);
        return column is not null && _found.UnitAssumed.Contains(column.Index);
    }

    private void Change(LogColumn column, string symbol, string why)
    {
        UnitTable.TryFind(symbol, out Unit unit);
        _found.Columns[column.Index] = column with { Unit = unit.Symbol, Factor = unit.Factor, Why = why };
    }
}
