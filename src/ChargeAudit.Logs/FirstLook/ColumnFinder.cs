using System.Globalization;
using System.Text.RegularExpressions;
using ChargeAudit.Logs.Columns;
using ChargeAudit.Logs.Dialects;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Units;

namespace ChargeAudit.Logs.FirstLook;

/// <summary>Decides what each column holds: first what the user says, then what the header says.</summary>
internal sealed partial class ColumnFinder
{
    private static readonly LogQuantity[] Readings =
    [
        LogQuantity.Voltage, LogQuantity.Current, LogQuantity.Power, LogQuantity.ApparentPower, LogQuantity.PowerFactor,
        LogQuantity.Energy, LogQuantity.Charge, LogQuantity.Temperature, LogQuantity.Frequency,
    ];

    /// <summary>Why a column holds what it does, where the user said so.</summary>
    internal const string ToldWhy = "named by the user";

    private readonly string _path;
    private readonly Table _table;
    private readonly LogOptions _options;
    private readonly IReadOnlyList<(HeaderLanguage Language, int Cells)> _known;
    private readonly IReadOnlyList<HeaderLanguage> _languages;
    private readonly HeaderText[] _headers;
    private readonly LogColumn[] _columns;
    private readonly List<string> _notes = [];
    private readonly List<string> _ambiguities = [];
    private readonly HashSet<int> _unitAssumed = [];
    private readonly Dictionary<LogQuantity, int[]> _others = [];

    private ColumnFinder(string path, Table table, LogOptions options)
    {
        _path = path;
        _table = table;
        _options = options;
        _known = HeaderLexicon.Of(table.Header);
        _languages = [.. _known.Select(k => k.Language)];
        string[] texts = HeaderFamilies.Texts(table.Header, _languages);
        _headers = [.. Enumerable.Range(0, table.FieldCount).Select(i => Header(i, texts))];
        _columns = [
            .. _headers.Select((h, i) =>
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
        bool byPosition = _options.Columns.Count > 0 && _options.Columns.Values.All(c => c.Position is not null);
        foreach (var (quantity, choice) in _options.Columns)
        {
            Choose(quantity, choice);
        }

        if (!byPosition)
        {
            // A separator at the end of each row makes an empty field more.
            if (_table.Header.Count > 0 && _table.FieldCount > _table.Header.Count && _options.Columns.Count == 0
                && _table.Column(_table.FieldCount - 1).Any(f => f.Trim().Length > 0) && _table.Separator == ',')
            {
                throw LogErrors.MoreFields(_path, _table.Header.Count, _table.FieldCount, "commas");
            }

            if (_table.Header.Count == 0 && _options.Columns.Count == 0)
            {
                throw LogErrors.NoHeader(_path, _table.FieldCount, ColumnsHints.For(_table));
            }

            var (voltage, current) = SupplyPair.Of(Alike(LogQuantity.Voltage), Alike(LogQuantity.Current));
            foreach (LogQuantity quantity in Readings.Where(q => !_options.Columns.ContainsKey(q)))
            {
                Guess(quantity, quantity == LogQuantity.Voltage ? voltage : quantity == LogQuantity.Current ? current : null);
            }
        }

        List<int> times = [.. Times(LogQuantity.Time)];
        if (times.TrueForAll(i => _columns[i].Why != ToldWhy && HeaderWords.Holds(Name(i), "duration")))
        {
            // A start is the time of its row, and a duration only the length of its interval; unless all rows have one start.
            int[] starts =
            [
                .. Enumerable.Range(0, Math.Min(_columns.Length, _table.Header.Count)).Where(i =>
                    _columns[i].Quantity == LogQuantity.Ignored && HeaderWords.IsOnly(_table.Header[i], "start") && !StandsStill(i)),
            ];
            times = starts.Length > 0 ? [.. starts] : times;
        }

        return new Found(_columns, times, Times(LogQuantity.Date).FirstOrDefault(-1), _notes, _ambiguities, _unitAssumed)
        {
            Others = _others,
            Languages = _known,
        };
    }

    private void Choose(LogQuantity quantity, ColumnChoice choice)
    {
        int index = choice.Position is int position ? position - 1 : IndexOf(choice.Header!);
        if (index < 0 || index >= _columns.Length)
        {
            string wanted = choice.Position is int p ? p.ToString(CultureInfo.InvariantCulture) : LogErrors.Quote(choice.Header!);
            string has = _table.Header.Count > 0
                ? LogErrors.List(_table.Header)
                : InvariantText.Of($"{_columns.Length} columns without a header");
            throw LogErrors.NoSuchColumn(_path, wanted, has, ColumnsHints.For(_table));
        }

        Unit unit = _headers[index].Unit ?? PlainUnit(quantity);
        bool named = _headers[index].Unit is not null;
        if (choice.Unit is string symbol)
        {
            if (!UnitTable.TryFind(symbol, out unit))
            {
                throw LogErrors.UnknownUnit(_path, Name(index), symbol);
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
            throw LogErrors.WrongUnit(_path, Name(index), unit.Symbol, LogErrors.KebabCase(quantity));
        }

        if (!fits)
        {
            unit = PlainUnit(quantity);
            named = false;
        }

        string symbolShown = quantity is LogQuantity.Time or LogQuantity.Date or LogQuantity.Clock && !named ? "" : unit.Symbol;
        _columns[index] = _columns[index] with
        {
            Quantity = quantity,
            Unit = symbolShown,
            Factor = unit.Factor,
            Offset = unit.Offset,
            Why = ToldWhy,
        };
    }

    // In the order in which they are taken.
    private int[] Candidates(LogQuantity quantity) =>
    [
        .. Enumerable.Range(0, _columns.Length)
            .Where(i => _columns[i].Quantity == LogQuantity.Ignored && _headers[i].Quantity == quantity && !IsText(i))
            .OrderBy(i => IsCosine(quantity, i)).ThenByDescending(i => _headers[i].Rank)
                .ThenByDescending(i => _headers[i].Unit is not null).ThenBy(StandsStill).ThenBy(i => i),
    ];

    // Columns of which words prefer none.
    private SupplyPair.Column[] Alike(LogQuantity quantity)
    {
        int[] candidates = Candidates(quantity);
        return [.. candidates.Where(i => _headers[i].Rank >= _headers[candidates[0]].Rank - 1)
            .Select(i => new SupplyPair.Column(i, _headers[i].Name, StandsStill(i)))];
    }

    private void Guess(LogQuantity quantity, int? first)
    {
        int[] candidates = Candidates(quantity);
        candidates = first is int f ? [f, .. candidates.Where(i => i != f)] : candidates;
        if (candidates.Length == 0)
        {
            // No word names it, but its numbers carry the unit.
            candidates =
            [
                .. Enumerable.Range(0, _columns.Length).Where(i => _columns[i].Quantity == LogQuantity.Ignored
                    && _headers[i].Quantity == LogQuantity.Ignored && _headers[i].Unit is null && CarryUnits(i, quantity)),
            ];
        }

        if (candidates.Length == 0)
        {
            return;
        }

        if (quantity == LogQuantity.Power)
        {
            RefusePhases(candidates);
        }

        int best = candidates[0];
        HeaderText header = _headers[best];
        Unit unit = header.Unit ?? PlainUnit(quantity);
        string why = header.Unit is null
            ? $"header words; no unit there, so {(unit.Symbol.Length > 0 ? unit.Symbol : "a pure number")}"
            : "header words and unit";
        bool cosine = IsCosine(quantity, best);
        if (header.UnitText.Length > 0 && header.Unit is null && !cosine)
        {
            if (IsUnitOfOthers(header.UnitText))
            {
                throw LogErrors.UnknownUnit(_path, Name(best), header.UnitText);
            }

            _ambiguities.Add(
                $"The unit {LogErrors.Quote(header.UnitText)} of column {LogErrors.Quote(Name(best))} is not known; {unit.Symbol} "
                + "was taken.");
        }

        if (header.Conflict)
        {
            why = "its unit, against its words";
            _ambiguities.Add(
                $"Column {LogErrors.Quote(Name(best))} is named as one quantity and carries the unit of another; the unit was believed.");
        }

        if (candidates.Length > 1)
        {
            _others[quantity] = candidates[1..];
            string note =
                $"Column {LogErrors.Quote(Name(best))} was taken for {Word(quantity)}, not "
                + $"{LogErrors.List(candidates.Skip(1).Select(Name))}.";
            bool alike = _headers[candidates[1]].Rank >= header.Rank - 1 && cosine == IsCosine(quantity, candidates[1]);
            (alike ? _ambiguities : _notes).Add(note);
        }

        if (header.Unit is null && CarryUnits(best, quantity))
        {
            why = "header words; its numbers carry their units";
        }
        else if (header.Unit is null)
        {
            _unitAssumed.Add(best);
        }

        _columns[best] = _columns[best] with
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

    private IEnumerable<int> Times(LogQuantity quantity) => Enumerable.Range(0, _columns.Length)
        .Where(i => _columns[i].Quantity == quantity
            || (_columns[i].Quantity == LogQuantity.Ignored && _headers[i].Quantity == quantity && !_options.Columns.ContainsKey(quantity)))
        .OrderByDescending(i => _columns[i].Quantity == quantity)
        .ThenByDescending(i => _headers[i].Rank);

    private HeaderText Header(int index, string[] texts)
    {
        string cell = index < texts.Length ? texts[index] : "";
        string unit = index < _table.Units.Count ? TextMarks.UnitOf(_table.Units[index]) : "";
        return HeaderText.Parse(cell, _languages).WithUnit(unit, _languages);
    }

    private string Name(int index) => index < _table.Header.Count && _table.Header[index].Length > 0
        ? _table.Header[index]
        : (index + 1).ToString(CultureInfo.InvariantCulture);

    // Header words are matched whole, then without their unit.
    private int IndexOf(string header)
    {
        int whole = Array.FindIndex(_columns, c => string.Equals(c.Header, header.Trim(), StringComparison.OrdinalIgnoreCase));
        return whole >= 0 ? whole
            : Array.FindIndex(_headers, h => h.Name.Length > 0 && string.Equals(h.Name, header.Trim(), StringComparison.OrdinalIgnoreCase));
    }

    // Whether nearly all fields say their unit themselves.
    private bool CarryUnits(int index, LogQuantity quantity)
    {
        List<string> filled = [.. _table.Column(index).Where(f => f.Length > 0).Take(50)];
        return filled.Count > 0 && filled.Count(f => Cells.UnitOf(f) is Unit u && HeaderText.QuantityOf(u.Kind) == quantity)
            >= 0.9 * filled.Count;
    }

    // Phases of one supply, or outlets that are numbered so: one of them is not the whole.
    private void RefusePhases(int[] candidates)
    {
        string[] phases = [.. candidates.Where(i => Phase().IsMatch(Name(i)) && !StandsStill(i)).Select(Name)];
        if (phases.Length > 1 && _options.Columns.Count == 0 && Phase().IsMatch(Name(candidates[0])))
        {
            throw LogErrors.Phases(_path, LogErrors.List(phases), ColumnsHints.For(_table));
        }
    }

    [GeneratedRegex(@"(?:^|[^A-Za-z])(?:L[123]|(?:phase|ph)[ _.-]?[1-3ABCRST]|P_?[RST])(?:$|[^A-Za-z0-9])", RegexOptions.IgnoreCase)]
    private static partial Regex Phase();

    // A power that is agreed on or set stands still, and the one that is measured does not.
    private bool StandsStill(int index) => !_table.Column(index).Where(f => f.Length > 0).Distinct(StringComparer.Ordinal).Skip(1).Any();

    // Units known by themselves, put together to one that is not: W/min, VAr s.
    private static bool IsUnitOfOthers(string text)
    {
        string[] parts = text.Split([' ', '/', '·', '*', '.', '^'], StringSplitOptions.RemoveEmptyEntries);
        return parts.Length > 1 && parts.All(p => UnitTable.TryFind(p, out _) || p.All(char.IsAsciiDigit))
            && UnitTable.TryFind(parts[0], out Unit first) && HeaderText.QuantityOf(first.Kind) >= LogQuantity.Voltage;
    }

    private bool IsText(int index)
    {
        List<string> filled = [.. _table.Column(index).Where(f => f.Length > 0).Take(50)];
        return filled.Count > 0 && filled.Count(f => Cells.IsNumber(f, _table.Separator)) < filled.Count / 2;
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
