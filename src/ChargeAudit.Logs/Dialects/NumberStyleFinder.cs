using System.Buffers;
using ChargeAudit.Logs.Numbers;

namespace ChargeAudit.Logs.Dialects;

/// <summary>Finds the decimal and thousands separators of a table from its fields.</summary>
internal static class NumberStyleFinder
{
    private static readonly SearchValues<char> SignsThatTell = SearchValues.Create(".,'\u2019 \u00A0\u202F\u2009");
    private static readonly SearchValues<char> NumberSigns = SearchValues.Create("0123456789.,'\u2019 \u00A0\u202F\u2009");

    /// <summary>Decides from all fields seen; a note where both readings were possible.</summary>
    public static (NumberStyle Style, string? Note) Find(Table table)
    {
        int decimalComma = 0;
        int decimalPoint = table.Plain.WithPoint.Sum(p => p?.Decimals ?? 0);
        int threeAfterComma = 0;
        int threeAfterPoint = table.Plain.WithPoint.Sum(p => p?.MayBeGrouped ?? 0);
        bool pointGroups = false;
        bool commaGroups = false;
        bool blankGroups = false;
        bool apostropheGroups = false;
        string example = "";
        foreach (string field in table.OddFields())
        {
            if (PlainNumber.Is(field, out int places))
            {
                bool thousands = PlainNumber.MayBeGrouped(field, places);
                threeAfterPoint += thousands ? 1 : 0;
                decimalPoint += places > 0 && !thousands ? 1 : 0;
                continue;
            }

            if (field.AsSpan().IndexOfAny(SignsThatTell) < 0)
            {
                continue;
            }

            ReadOnlySpan<char> number = field.AsSpan().TrimStart("-+ \u2212");
            int end = number.IndexOfAnyExcept(NumberSigns);
            bool blank = number.IndexOfAny('\u00A0', '\u202F', '\u2009') > 0;
            number = (end < 0 ? number : number[..end]).Trim();
            if (number.Length == 0 || !char.IsAsciiDigit(number[0]) || Cells.IsTime(field))
            {
                continue;
            }

            int comma = number.LastIndexOf(',');
            int point = number.LastIndexOf('.');
            blankGroups |= (blank && char.IsAsciiDigit(number[^1])) || IsGrouped(number, ' ');
            apostropheGroups |= IsGrouped(number, '\'') || IsGrouped(number, '\u2019');
            if (comma >= 0 && point >= 0)
            {
                commaGroups |= point > comma;
                pointGroups |= comma > point;
                decimalPoint += point > comma ? 1 : 0;
                decimalComma += comma > point ? 1 : 0;
            }
            else if (comma >= 0)
            {
                bool three = PlainNumber.MayBeGrouped(number, number.Length - comma - 1);
                bool several = number.Count(',') > 1;
                commaGroups |= several;
                threeAfterComma += three && !several ? 1 : 0;
                decimalComma += three || several ? 0 : 1;
                example = three && example.Length == 0 ? field : example;
            }
            else if (point >= 0)
            {
                bool several = number.Count('.') > 1;
                bool three = PlainNumber.MayBeGrouped(number, number.Length - point - 1);
                pointGroups |= several;
                threeAfterPoint += three && !several ? 1 : 0;
                decimalPoint += three || several ? 0 : 1;
            }
        }

        byte otherGroup = apostropheGroups ? (byte)'\'' : blankGroups ? (byte)' ' : (byte)0;
        if ((table.Separator != ',' || decimalPoint == 0) && (decimalComma > decimalPoint || pointGroups))
        {
            return (new NumberStyle((byte)',', pointGroups || threeAfterPoint > 0 ? (byte)'.' : otherGroup), null);
        }

        if (commaGroups)
        {
            return (new NumberStyle((byte)'.', (byte)','), null);
        }

        if (threeAfterComma > 0 && decimalPoint + threeAfterPoint > 0)
        {
            return (new NumberStyle((byte)'.', (byte)','),
                $"\"{example}\" was read with the comma as thousands separator, since other numbers carry a decimal point.");
        }

        if (threeAfterComma > 0)
        {
            return (new NumberStyle((byte)',', 0),
                $"\"{example}\" was read with a decimal comma, since no number of the file carries a point.");
        }

        return (new NumberStyle((byte)'.', otherGroup), null);
    }

    // Three digits after each sign, and up to three before the first.
    private static bool IsGrouped(ReadOnlySpan<char> number, char sign)
    {
        int end = number.IndexOfAny('.', ',');
        ReadOnlySpan<char> whole = end < 0 ? number : number[..end];
        int at = whole.IndexOf(sign);
        if (at is < 1 or > 3)
        {
            return false;
        }

        for (; at < whole.Length; at += 4)
        {
            if (whole[at] != sign || at + 4 > whole.Length || whole.Slice(at + 1, 3).ContainsAnyExceptInRange('0', '9'))
            {
                return false;
            }
        }

        return true;
    }
}
