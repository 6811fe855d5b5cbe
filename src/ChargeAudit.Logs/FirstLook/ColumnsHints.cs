using System.Globalization;
using ChargeAudit.Logs.Columns;
using ChargeAudit.Logs.Dialects;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Units;

namespace ChargeAudit.Logs.FirstLook;

/// <summary>Fills in what a user would have to say about the columns, as far as the columns tell.</summary>
internal static class ColumnsHints
{
    private const int MostColumns = 16;

    /// <summary>Fills it in.</summary>
    /// <param name="table">The table.</param>
    /// <param name="known">How its columns are understood so far; null: not at all.</param>
    public static ColumnsHint For(Table table, IReadOnlyList<LogColumn>? known = null)
    {
        var words = new List<(string Word, string Unit)>();
        int columns = Math.Min(table.FieldCount, MostColumns);
        for (int i = 0; i < columns; i++)
        {
            words.Add(Guess(table, i, known));
        }

        Times(table, words);
        bool Has(string word) => words.Exists(w => w.Word == word);
        if (!Has("time") && !Has("date"))
        {
            Put(words, i => IsRising(table, i) && !NamesAnother(table, i) && !IsRowNumber(table, i), ("time", ""));
        }

        bool Gives() => Has("power") || Has("energy") || Has("charge") || (Has("voltage") && Has("current"))
            || (Has("apparent-power") && Has("power-factor"));
        int[] open = Gives() ? [] : [.. Enumerable.Range(0, words.Count).Where(i => words[i].Word == "-" && MayBePower(table, i))];
        foreach (int i in open)
        {
            // Beside a voltage or a current alone it may be the other of the two.
            words[i] = open.Length == 1 && !Has("voltage") && !Has("current") ? ("power", "W") : ("?", "");
        }

        // A word that stands twice would be refused; the first column is taken.
        for (int i = 0; i < words.Count; i++)
        {
            words[i] = words[i].Word is not ("-" or "?") && words.FindIndex(w => w.Word == words[i].Word) < i ? ("-", "") : words[i];
        }

        if (open.Length == 0 && !Gives())
        {
            return new ColumnsHint(Has("voltage")
                ? "export power, or the current beside the voltage, as well"
                : "export power, or voltage and current, as well", null, HasTime: Has("time") || Has("date"));
        }

        string option = string.Join(',', words.Select(w => w.Unit.Length > 0 ? $"{w.Word}[{w.Unit}]" : w.Word)).TrimEnd(',', '-');
        bool hasTime = Has("time") || Has("date");
        if (!Has("?"))
        {
            return new ColumnsHint(
                $"say which column holds what and in which unit, as in columns = {{ {Key(words)} }} at the meter in the study",
                $"'{option}'", hasTime);
        }

        // Which of them is the power nobody can tell.
        int first = open[0];
        words[first] = ("power", "W");
        return new ColumnsHint(InvariantText.Of($"say which column holds what and in which unit; were the power in column {first + 1}, by ")
            + $"columns = {{ {Key(words)} }} at the meter in the study",
            $"'{option}', with power[W], voltage[V], current[A] or - in place of each ?", hasTime);
    }

    private static string Key(List<(string Word, string Unit)> words) => string.Join(", ", words.Select((w, i) => (w.Word, w.Unit, i))
        .Where(w => w.Word is not ("-" or "?")).Select(w => w.Unit.Length > 0
            ? InvariantText.Of($"{w.Word} = {{ position = {w.i + 1}, unit = \"{w.Unit}\" }}")
            : InvariantText.Of($"{w.Word} = {w.i + 1}")));

    // A date and a clock belong together; of several whole times the first is taken.
    private static void Times(Table table, List<(string Word, string Unit)> words)
    {
        int[] times = [.. Enumerable.Range(0, words.Count).Where(i => words[i].Word is "time" or "date" or "clock")];
        int date = times.FirstOrDefault(i => Fields(table, i).All(Cells.IsDate), -1);
        int clock = times.FirstOrDefault(i => IsClockAlone(table, i), -1);
        if (times.Length < 2)
        {
            return;
        }

        foreach (int i in times)
        {
            words[i] = date < 0 || clock < 0 ? (i == times[0] ? "time" : "-", "") : (i == date ? "date" : i == clock ? "clock" : "-", "");
        }
    }

    private static string[] Fields(Table table, int index) => [.. table.Column(index).Where(f => f.Length > 0).Take(50)];

    private static bool IsClockAlone(Table table, int index) =>
        Fields(table, index) is { Length: > 0 } fields && fields.All(Cells.IsClock) && !fields.All(Cells.IsDate);

    // A column that a known word says is something else is no power.
    private static bool MayBePower(Table table, int index) => IsNumeric(table, index)
        && (index >= table.Header.Count || (HeaderText.Parse(table.Header[index]) is var h && h.Quantity == LogQuantity.Ignored
            && h.Unit is null && !HeaderWords.SaysOther(table.Header[index])));

    private static (string Word, string Unit) Guess(Table table, int index, IReadOnlyList<LogColumn>? known)
    {
        var header = HeaderText.Parse(index < table.Header.Count ? table.Header[index] : "");
        LogQuantity quantity = known is not null && index < known.Count && known[index].Quantity != LogQuantity.Ignored
            ? known[index].Quantity
            : header.Quantity;
        string[] fields = Fields(table, index);
        bool passed = known is not null && index < known.Count && known[index].Quantity == LogQuantity.Ignored;
        if (quantity >= LogQuantity.Voltage && !passed && fields.Length > 0 && IsNumeric(table, index))
        {
            string unit = header.Unit?.Symbol ?? ColumnFinder.PlainUnit(quantity).Symbol;
            return (StableName.Of(quantity), unit);
        }

        return fields.Length > 0
            && (fields.All(Cells.IsTime) || (quantity is LogQuantity.Time or LogQuantity.Date && IsNumeric(table, index)))
            ? (quantity == LogQuantity.Date ? "date" : quantity == LogQuantity.Clock ? "clock" : "time", "")
            : ("-", "");
    }

    // The word for a time or a date goes to the first such column only.
    private static void Put(List<(string Word, string Unit)> words, Func<int, bool> where, (string, string) word)
    {
        int at = Enumerable.Range(0, words.Count).FirstOrDefault(i => words[i].Word == "-" && where(i), -1);
        if (at >= 0)
        {
            words[at] = word;
        }
    }

    private static bool IsNumeric(Table table, int index)
    {
        string[] fields = Fields(table, index);
        return fields.Length > 0 && fields.Count(f => Cells.IsNumber(f, table.Separator)) > 0.8 * fields.Length;
    }

    // A column whose header names a unit of something else is not a time, however steadily it rises.
    private static bool NamesAnother(Table table, int index) =>
        index < table.Header.Count && HeaderText.Parse(table.Header[index]).Unit is { Kind: not UnitKind.Time };

    // Rows that are counted are no seconds.
    private static bool IsRowNumber(Table table, int index) =>
        index < table.Header.Count && (table.Header[index].Trim() is "" or "#" || HeaderWords.IsOnly(table.Header[index], "row"));

    private static bool IsRising(Table table, int index)
    {
        double[] numbers = [.. table.Column(index).Take(20)
            .Select(f => double.TryParse(f, NumberStyles.Float, CultureInfo.InvariantCulture, out double n) ? n : double.NaN)];
        return numbers.Length > 1 && numbers.Zip(numbers.Skip(1), (a, b) => b > a).All(r => r);
    }
}
