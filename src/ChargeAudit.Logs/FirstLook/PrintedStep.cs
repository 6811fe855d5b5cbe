using ChargeAudit.Logs.Dialects;
using ChargeAudit.Logs.Layout;
using ChargeAudit.Logs.Numbers;
using ChargeAudit.Metrology;

namespace ChargeAudit.Logs.FirstLook;

/// <summary>
/// What the printed digits say about a meter's steps: a column with one decimal of W moves by at least 0.1 W, however constant it is. Zeros
/// at the end count as digits; a whole number without a decimal sign moves by at least one. The step may be coarser than that, never finer.
/// </summary>
internal static class PrintedStep
{
    /// <summary>One in the last printed place of each column, in its coherent unit; the finest of the rows looked at.</summary>
    public static Dictionary<LogQuantity, double> OfColumns(Table table, TextPlan plan)
    {
        var steps = new Dictionary<LogQuantity, double>();
        Span<byte> room = stackalloc byte[FieldBytes.Room];
        foreach (FieldPlan field in plan.Fields)
        {
            double least = double.PositiveInfinity;
            int finest = -2;
            foreach (string text in table.Plain.At(field.Index, plan.Numbers.Decimal) is { } plain
                ? [plain.Finest]
                : table.Column(field.Index))
            {
                // Among plain numbers only those with more places than all before can have a finer step.
                if (plan.Numbers.Decimal == '.' && PlainNumber.Is(text, out int places))
                {
                    if (places <= finest)
                    {
                        continue;
                    }

                    finest = places;
                }

                ReadOnlySpan<byte> bytes = FieldBytes.Of(text, room);
                double factor = NumberField.TryRead(bytes, plan.Numbers, out _) ? field.Factor
                    : NumberField.TryReadWithUnit(bytes, plan.Numbers, out _, out var unit) && unit.Kind == field.Kind ? unit.Factor
                    : double.NaN;
                double step = Of(text, plan.Numbers) * Math.Abs(factor);
                least = step > 0 && step < least ? step : least;
            }

            if (double.IsFinite(least))
            {
                steps[field.Quantity] = least;
            }
        }

        return steps;
    }

    /// <summary>One in the last printed place of a number; NaN where there are no digits.</summary>
    /// <param name="text">The field, a unit after the number or not.</param>
    /// <param name="style">How numbers are written.</param>
    public static double Of(string text, NumberStyle style)
    {
        int digits = 0;
        int places = 0;
        bool fraction = false;
        int i = 0;
        for (; i < text.Length; i++)
        {
            char c = text[i];
            if (char.IsAsciiDigit(c))
            {
                digits++;
                places += fraction ? 1 : 0;
            }
            else if (c == style.Decimal && !fraction)
            {
                fraction = true;
            }
            else if (digits > 0 && c != style.Group && !(style.Group == ' ' && char.IsWhiteSpace(c)))
            {
                break;
            }
        }

        if (digits == 0)
        {
            return double.NaN;
        }

        return Math.Pow(10, Exponent(text.AsSpan(i))) / Math.Pow(10, places);
    }

    private static int Exponent(ReadOnlySpan<char> rest)
    {
        if (rest.Length < 2 || rest[0] is not ('e' or 'E'))
        {
            return 0;
        }

        int length = 1 + (rest[1] is '+' or '-' ? 1 : 0);
        while (length < rest.Length && char.IsAsciiDigit(rest[length]))
        {
            length++;
        }

        return int.TryParse(rest[1..length], System.Globalization.NumberStyles.AllowLeadingSign,
            System.Globalization.CultureInfo.InvariantCulture, out int exponent)
            ? Math.Clamp(exponent, -300, 300)
            : 0;
    }
}
