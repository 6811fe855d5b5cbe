using System.Globalization;
using ChargeAudit.Logs.Columns;
using ChargeAudit.Logs.Dialects;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Units;

namespace ChargeAudit.Logs.FirstLook;

/// <summary>Decides what each column holds: first what the user says, then what the header says.</summary>
internal sealed class ColumnFinder
{
    private static readonly LogQuantity[] Readings =
    [
        LogQuantity.Voltage, LogQuantity.Current, LogQuantity.Power, LogQuantity.ApparentPower, LogQuantity.PowerFactor,
        LogQuantity.Energy, LogQuantity.Charge, LogQuantity.Temperature, LogQuantity.Frequency,
    ];

    /// <summary>Why a column holds what it does, where the user said so.</summary>
    internal const string ToldWhy = "named by the user";

    private readonly string path;
    private readonly Table table;
    private readonly LogOptions options;
    private readonly IReadOnlyList<(HeaderLanguage Language, int Cells)> known;
    private readonly IReadOnlyList<HeaderLanguage> languages;
    private readonly HeaderText[] headers;
    private readonly LogColumn[] columns;
    private readonly List<string> notes = [];
    private readonly List<string> ambiguities = [];
    private readonly HashSet<int> unitAssumed = [];
    private readonly Dictionary<LogQuantity, int[]> others = [];

    private ColumnFinder(string path, Table table, LogOptions options)
    {
        this.path = path;
        this.table = table;
        this.options = options;
        known = HeaderLexicon.Of(table.Header);
        languages = [.. known.Select(k => k.Language)];
        headers = [.. Enumerable.Range(0, table.FieldCount).Select(Header)];
        columns = [
            .. headers.Select((h, i) =>
            new LogColumn(i, Name(i), LogQuantity.Ignored, h.Unit?.Symbol ?? "", h.Unit?.Factor ?? 1, "not used"))];
    }

    /// <summary>Columns with everything but the time decided.</summary>
    /// <param name="Columns">All columns in order.</param>
    /// <param name="TimeCandidates">Columns whose header names a time, the best first.</param>
    /// <param name="DateIndex">Column whose header names a date; −1 for none.</param>
    /// <param name="Notes">Choices made that the user should know.</param>
    /// <param name="Ambiguities">Choices that strict reading refuses.</param>
    /// <param name="UnitAssumed">Columns whose unit neither header nor user named.</param>
    public sealed record Found(LogColumn[] Columns, IReadOnlyList<int> TimeCandidates, int DateIndex, List<string> Notes,
        List<string> Ambiguities, IReadOnlySet<int> UnitAssumed)
    {
        /// <summary>Columns that were not taken for a quantity though their headers name it.</summary>
        public IReadOnlyDictionary<LogQuantity, int[]> Others { get; init; } = new Dictionary<LogQuantity, int[]>();

        /// <summary>Languages of the header, the likeliest first, each with the number of cells that it knows.</summary>
        public IReadOnlyList<(HeaderLanguage Language, int Cells)> Languages { get; init; } = [];
    }

    /// <summary>Decides about all columns.</summary>
    public static Found Find(string path, Table table, LogOptions options) => new ColumnFinder(path, table, options).Find();

    private Found Find()
    {
        bool byPosition = options.Columns.Count > 0 && options.Columns.Values.All(c => c.Position is not null);
        foreach (var (quantity, choice) in options.Columns)
        {
            Choose(quantity, choice);
        }

        if (!byPosition)
        {
            if (table.Header.Count == 0 && options.Columns.Count == 0)
            {
                throw LogErrors.NoHeader(path, table.FieldCount, ColumnsHints.For(table));
            }

            foreach (LogQuantity quantity in Readings.Where(q => !options.Columns.ContainsKey(q)))
            {
                Guess(quantity);
            }
        }

        List<int> times = [.. Times(LogQuantity.Time)];
        if (times.Count == 0)
        {
            times.AddRange(Enumerable.Range(0, table.Header.Count)
                .Where(i => columns[i].Quantity == LogQuantity.Ignored && HeaderWords.IsOnly(table.Header[i], "start")));
        }

        return new Found(columns, times, Times(LogQuantity.Date).FirstOrDefault(-1), notes, ambiguities, unitAssumed)
        {
            Others = others,
            Languages = known,
        };
    }

    private void Choose(LogQuantity quantity, ColumnChoice choice)
    {
        int index = choice.Position is int position ? position - 1 : IndexOf(choice.Header!);
        if (index < 0 || index >= columns.Length)
        {
            string wanted = choice.Position is int p ? p.ToString(CultureInfo.InvariantCulture) : LogErrors.Quote(choice.Header!);
            string has = table.Header.Count > 0
                ? LogErrors.List(table.Header)
                : InvariantText.Of($"{columns.Length} columns without a header");
            throw LogErrors.NoSuchColumn(path, wanted, has, ColumnsHints.For(table));
        }

        Unit unit = headers[index].Unit ?? PlainUnit(quantity);
        bool named = headers[index].Unit is not null;
        if (choice.Unit is string symbol)
        {
            if (!UnitTable.TryFind(symbol, out unit))
            {
                throw LogErrors.UnknownUnit(path, Name(index), symbol);
            }

            named = true;
        }

        if (quantity is LogQuantity.Ignored)
        {
            return;
        }

        bool fits = HeaderText.QuantityOf(unit.Kind) == quantity || (quantity == LogQuantity.PowerFactor && unit.Kind == UnitKind.Ratio)
            || quantity is LogQuantity.Date or LogQuantity.Clock;
        if (!fits && choice.Unit is not null)
        {
            throw LogErrors.WrongUnit(path, Name(index), unit.Symbol, quantity.ToString());
        }

        if (!fits)
        {
            unit = PlainUnit(quantity);
            named = false;
        }

        string symbolShown = quantity is LogQuantity.Time or LogQuantity.Date or LogQuantity.Clock && !named ? "" : unit.Symbol;
        columns[index] = columns[index] with
        {
            Quantity = quantity,
            Unit = symbolShown,
            Factor = unit.Factor,
            Offset = unit.Offset,
            Why = ToldWhy,
        };
    }

    private void Guess(LogQuantity quantity)
    {
        int[] candidates =
        [
            .. Enumerable.Range(0, columns.Length)
                .Where(i => columns[i].Quantity == LogQuantity.Ignored && headers[i].Quantity == quantity && !IsText(i))
                .OrderBy(i => IsCosine(quantity, i)).ThenByDescending(i => headers[i].Rank)
                    .ThenByDescending(i => headers[i].Unit is not null).ThenBy(i => i),
        ];
        if (candidates.Length == 0)
        {
            return;
        }

        int best = candidates[0];
        HeaderText header = headers[best];
        Unit unit = header.Unit ?? PlainUnit(quantity);
        string why = header.Unit is null
            ? $"header words; no unit there, so {(unit.Symbol.Length > 0 ? unit.Symbol : "a pure number")}"
            : "header words and unit";
        bool cosine = IsCosine(quantity, best);
        if (header.UnitText.Length > 0 && header.Unit is null && !cosine)
        {
            ambiguities.Add(
                $"The unit {LogErrors.Quote(header.UnitText)} of column {LogErrors.Quote(Name(best))} is not known; {unit.Symbol} "
                + "was taken.");
        }

        if (header.Conflict)
        {
            why = "its unit, against its words";
            ambiguities.Add(
                $"Column {LogErrors.Quote(Name(best))} is named as one quantity and carries the unit of another; the unit was believed.");
        }

        if (candidates.Length > 1)
        {
            others[quantity] = candidates[1..];
            string note =
                $"Column {LogErrors.Quote(Name(best))} was taken for {Word(quantity)}, not "
                + $"{LogErrors.List(candidates.Skip(1).Select(Name))}.";
            (headers[candidates[1]].Rank >= header.Rank - 1 && cosine == IsCosine(quantity, candidates[1]) ? ambiguities : notes).Add(note);
        }

        if (header.Unit is null)
        {
            unitAssumed.Add(best);
        }

        columns[best] = columns[best] with
        {
            Quantity = quantity,
            Unit = unit.Symbol,
            Factor = unit.Factor,
            Offset = unit.Offset,
            Why = cosine ? $"{why}; it may be the displacement factor" : why,
            MayBeDisplacement = cosine,
        };
    }

    private bool IsCosine(LogQuantity quantity, int index) => quantity == LogQuantity.PowerFactor && HeaderWords.SaysCosine(Name(index));

    private IEnumerable<int> Times(LogQuantity quantity) => Enumerable.Range(0, columns.Length)
        .Where(i => columns[i].Quantity == quantity
            || (columns[i].Quantity == LogQuantity.Ignored && headers[i].Quantity == quantity && !options.Columns.ContainsKey(quantity)))
        .OrderByDescending(i => columns[i].Quantity == quantity)
        .ThenByDescending(i => headers[i].Rank);

    private HeaderText Header(int index)
    {
        string cell = index < table.Header.Count ? table.Header[index] : "";
        string unit = index < table.Units.Count ? TextMarks.UnitOf(table.Units[index]) : "";
        return HeaderText.Parse(cell, languages).WithUnit(unit, languages);
    }

    private string Name(int index) => index < table.Header.Count && table.Header[index].Length > 0
        ? table.Header[index]
        : (index + 1).ToString(CultureInfo.InvariantCulture);

    // Header words are matched whole, then without their unit.
    private int IndexOf(string header)
    {
        int whole = Array.FindIndex(columns, c => string.Equals(c.Header, header.Trim(), StringComparison.OrdinalIgnoreCase));
        return whole >= 0 ? whole
            : Array.FindIndex(headers, h => h.Name.Length > 0 && string.Equals(h.Name, header.Trim(), StringComparison.OrdinalIgnoreCase));
    }

    private bool IsText(int index)
    {
        List<string> filled = [.. table.Column(index).Where(f => f.Length > 0).Take(50)];
        return filled.Count > 0 && filled.Count(f => Cells.IsNumber(f, table.Separator)) < filled.Count / 2;
    }

    /// <summary>The unit that a quantity has where none is named: the trade's own, not the coherent one.</summary>
    internal static Unit PlainUnit(LogQuantity quantity) => quantity switch
    {
        LogQuantity.Voltage => Known("V"),
        LogQuantity.Current => Known("A"),
        LogQuantity.Power => Known("W"),
        LogQuantity.ApparentPower => Known("VA"),
        LogQuantity.Energy => Known("Wh"),
        LogQuantity.Charge => Known("Ah"),
        LogQuantity.Temperature => Known("°C"),
        LogQuantity.Frequency => Known("Hz"),
        LogQuantity.Time or LogQuantity.Date or LogQuantity.Clock => Known("s"),
        _ => new Unit("", UnitKind.Ratio, 1),
    };

    /// <summary>A quantity's name in a sentence.</summary>
    internal static string Word(LogQuantity quantity) => quantity == LogQuantity.Power
        ? "real power"
        : StableName.Of(quantity).Replace('-', ' ');

    private static Unit Known(string symbol) => UnitTable.TryFind(symbol, out Unit unit)
        ? unit
        : throw new System.Diagnostics.UnreachableException();
}
