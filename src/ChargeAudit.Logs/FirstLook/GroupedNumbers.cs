using ChargeAudit.Logs.Dialects;
using ChargeAudit.Logs.Numbers;
using ChargeAudit.Metrology;

namespace ChargeAudit.Logs.FirstLook;

/// <summary>
/// A sign before three digits, in all numbers of a column that have one, is a decimal separator or groups thousands, and the numbers alone
/// do not say which. Whole numbers beside them, and values that no charger has, do.
/// </summary>
internal static class GroupedNumbers
{
    // By chance, so many numbers hardly end in three other digits than zero each.
    private const int FewestOfEach = 5;

    // Nothing is supplied at less than this, and no charge has so little power, current, energy or charge. Common practice, no source.
    private const double LeastV = 0.5;
    private const double LeastW = 0.1;
    private const double LeastA = 0.02;
    private const double LeastJ = 180;
    private const double LeastC = 36;

    /// <summary>Decides whether a sign that was taken for the decimal separator groups thousands.</summary>
    /// <param name="table">The table.</param>
    /// <param name="numbers">How its numbers are read as far as their form tells.</param>
    /// <param name="found">Its columns; gets a doubt where both are possible.</param>
    public static NumberStyle Settle(Table table, NumberStyle numbers, ColumnFinder.Found found)
    {
        char sign = (char)numbers.Decimal;
        if (sign == '.' && table.Plain.WithPoint.Any(p => p?.Decimals > 0))
        {
            return numbers;
        }

        Column[] all = [.. Enumerable.Range(0, table.FieldCount).Select(i => Look(table, i, sign))];
        if (Array.Exists(all, c => c.Decimals > 0))
        {
            return numbers;
        }

        foreach (Column column in all.Where(c => c.Three >= FewestOfEach && c.Other == 0))
        {
            LogColumn named = found.Columns[column.Index];
            bool used = named.Quantity is >= LogQuantity.Voltage and not LogQuantity.Temperature and not LogQuantity.Frequency
                and not LogQuantity.PowerFactor;
            double largest = column.Largest * named.Factor;
            bool counter = named.Quantity is LogQuantity.Energy or LogQuantity.Charge;
            string few = Prose.Of($"{(counter ? column.Advance : column.Largest):0.###} {named.Unit}");
            bool impossible = named.Quantity == LogQuantity.Voltage && largest < LeastV;
            double advance = column.Advance * named.Factor;
            bool hardly = named.Quantity switch
            {
                LogQuantity.Power => largest < LeastW,
                LogQuantity.Current => largest < LeastA,
                LogQuantity.Energy => advance is > 0 and < LeastJ,
                LogQuantity.Charge => advance is > 0 and < LeastC,
                _ => false,
            };
            bool quoted = sign == ',' && table.Separator == ',';
            if (used && (column.Whole >= FewestOfEach || impossible || (hardly && quoted)))
            {
                found.Ambiguities.Add($"\"{column.Example}\" was read as a number without decimals, {Name(sign)} grouping thousands: "
                    + (column.Whole >= FewestOfEach ? "other numbers of its column are whole and below 1000."
                    : impossible ? $"no supply has {few}." : "a comma stands between the fields too."));
                return new NumberStyle((byte)(sign == '.' ? ',' : '.'), (byte)sign);
            }

            if (used && hardly && table.Separator != ',')
            {
                found.Ambiguities.Add($"\"{column.Example}\" was read with {Name(sign)} as decimal separator, which makes little of it ("
                    + $"{(counter ? "an advance of" : "at most")} {few})"
                    + "; if it groups thousands, write the numbers without it.");
            }
        }

        return numbers;
    }

    private static string Name(char sign) => sign == '.' ? "the point" : "the comma";

    private static Column Look(Table table, int index, char sign)
    {
        var column = new Column(index);
        double last = double.NaN;
        var style = new NumberStyle((byte)sign, 0);
        Span<byte> room = stackalloc byte[FieldBytes.Room];
        foreach (string field in table.Column(index).Where(f => f.Length > 0))
        {
            ReadOnlySpan<char> digits = field.AsSpan().TrimStart("-+ ");
            int at = digits.IndexOf(sign);
            if (!NumberField.TryRead(FieldBytes.Of(field, room), style, out double value) || Cells.IsTime(field))
            {
                column.Other++;
                continue;
            }

            bool three = at >= 0 && PlainNumber.MayBeGrouped(digits, digits.Length - at - 1);
            column.Three += three ? 1 : 0;
            column.Whole += at < 0 && digits.Length == 3 ? 1 : 0;
            column.Decimals += at >= 0 && !three ? 1 : 0;
            column.Other += at < 0 && digits.Length > 3 ? 1 : 0;
            column.Example = three ? field : column.Example;
            column.Largest = Math.Max(column.Largest, Math.Abs(value));
            column.Advance += value > last ? value - last : 0;
            last = value;
        }

        return column;
    }

    private sealed class Column(int index)
    {
        public int Index { get; } = index;
        public int Three { get; set; }
        public int Whole { get; set; }
        public int Decimals { get; set; }
        public int Other { get; set; }
        public string Example { get; set; } = "";
        public double Largest { get; set; }
        public double Advance { get; set; }
    }
}
