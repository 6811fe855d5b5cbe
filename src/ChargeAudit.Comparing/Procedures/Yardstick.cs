using ChargeAudit.Metrology;

namespace ChargeAudit.Comparing.Procedures;

/// <summary>
/// A published limit: a formula of one variable over one interval of it. It is information, never a verdict: whether a product falls under
/// the rule, and was tested as the rule requires, no log can tell. Rows of yardsticks.tsv.
/// </summary>
public sealed record Yardstick
{
    private readonly double _from;
    private readonly double _to;
    private readonly bool _fromInclusive;
    private readonly bool _toInclusive;
    private readonly double _ln;
    private readonly double _linear;
    private readonly double? _constant;

    internal Yardstick(IReadOnlyDictionary<string, string> row)
    {
        Id = row["id"];
        What = row["what"];
        AtMost = row["sense"] == "at-most";
        Unit = row["unit"];
        Variable = row["variable"] == "none" ? null : row["variable"];
        Rule = row["rule"];
        Source = row["source"];
        AppliesFrom = DataTable.Date(row["applies-from"]) ?? DateOnly.MinValue;
        AppliesUntil = DataTable.Date(row["applies-until"]);
        Mark = row["mark"] == "READ" ? SourceMark.Read : SourceMark.Memory;
        ReadOn = DataTable.Date(row["read-on"]);
        Note = row["note"];
        string interval = row["interval"];
        string[] ends = interval[1..^1].Split(',');
        (_from, _to) = (DataTable.Number(ends[0]), DataTable.Number(ends[1]));
        (_fromInclusive, _toInclusive) = (interval[0] == '[', interval[^1] == ']');
        if (row["constant"].Length > 0)
        {
            (_ln, _linear, _constant) = (DataTable.Number(row["ln"]), DataTable.Number(row["linear"]), DataTable.Number(row["constant"]));
        }
    }

    /// <summary>Id, shared by the branches of one rule.</summary>
    public string Id { get; }

    /// <summary>What is limited, in words.</summary>
    public string What { get; }

    /// <summary>Whether it is a greatest value; otherwise a least one.</summary>
    public bool AtMost { get; }

    /// <summary>Unit of the limit.</summary>
    public string Unit { get; }

    /// <summary>What it depends on, with its unit; null where on nothing.</summary>
    public string? Variable { get; }

    /// <summary>The rule as a formula for people.</summary>
    public string Rule { get; }

    /// <summary>Title of the source.</summary>
    public string Source { get; }

    /// <summary>First day on which it applies.</summary>
    public DateOnly AppliesFrom { get; }

    /// <summary>First day on which it no longer applies; null: no end is known.</summary>
    public DateOnly? AppliesUntil { get; }

    /// <summary>How far its numbers can be relied on.</summary>
    public SourceMark Mark { get; }

    /// <summary>The day on which its text or table was last read; null: never.</summary>
    public DateOnly? ReadOn { get; }

    /// <summary>A remark on it.</summary>
    public string Note { get; }

    /// <summary>Whether this branch holds at a value of the variable.</summary>
    /// <param name="x">The variable, in the unit that <see cref="Variable"/> names; anything where there is none.</param>
    public bool Holds(double x) => Variable is null || ((_fromInclusive ? x >= _from : x > _from) && (_toInclusive ? x <= _to : x < _to));

    /// <summary>The limit, in <see cref="Unit"/>; null where it is not known to this program.</summary>
    /// <param name="x">The variable.</param>
    public double? LimitAt(double x) => _constant is { } c
        ? c + (_linear == 0 ? 0 : _linear * x) + (_ln == 0 ? 0 : _ln * Math.Log(x))
        : null;

    /// <summary>By how much the limit grows with the variable; zero where the limit is not known. [unit of the limit by unit of the
    /// variable]</summary>
    /// <param name="x">The variable.</param>
    public double SlopeAt(double x) => _constant is null ? 0 : _linear + (_ln == 0 ? 0 : _ln / x);

    /// <summary>Source, dates and mark as one line.</summary>
    public string SourceLine()
    {
        string until = AppliesUntil is { } end ? Prose.Of($" until {end:yyyy-MM-dd}") : string.Empty;
        string read = ReadOn is { } day ? Prose.Of($"; last read {day:yyyy-MM-dd}") : string.Empty;
        string mark = Mark == SourceMark.Memory ? "; from memory, not read: check before relying on it" : read;
        return Prose.Of($"{Source}, applies from {AppliesFrom:yyyy-MM-dd}{until}{mark}");
    }
}
