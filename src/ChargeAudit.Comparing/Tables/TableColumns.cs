using ChargeAudit.Metrology.Uncertainty;
using Microsoft.Data.Analysis;

namespace ChargeAudit.Comparing.Tables;

/// <summary>A flat table, made column by column from a list of rows. What is not known, or is no finite number, is null.</summary>
/// <param name="rows">The rows, in order.</param>
internal sealed class TableColumns<TRow>(IReadOnlyList<TRow> rows)
{
    private readonly List<DataFrameColumn> _columns = [];

    /// <summary>A column of texts.</summary>
    public TableColumns<TRow> Text(string name, Func<TRow, string?> of) => With(new StringDataFrameColumn(name, rows.Select(of)));

    /// <summary>A column of yes and no.</summary>
    public TableColumns<TRow> Flag(string name, Func<TRow, bool> of) =>
        With(new BooleanDataFrameColumn(name, rows.Select(r => (bool?)of(r))));

    /// <summary>A column of numbers.</summary>
    public TableColumns<TRow> Number(string name, Func<TRow, double?> of) =>
        With(new DoubleDataFrameColumn(name, rows.Select(r => of(r) is { } value && double.IsFinite(value) ? value : (double?)null)));

    /// <summary>Four columns of numbers: <c>NAME</c>, its standard uncertainty <c>NAME_u</c>, and the ends of its 95 % interval
    /// <c>NAME_low</c> and <c>NAME_high</c>.</summary>
    public TableColumns<TRow> Measured(string name, Func<TRow, Measured?> of) => Number(name, r => of(r)?.Value).Uncertainty(name, of);

    /// <summary>The last three of these alone.</summary>
    public TableColumns<TRow> Uncertainty(string name, Func<TRow, Measured?> of) => Number($"{name}_u", r => of(r)?.StandardUncertainty)
        .Number($"{name}_low", r => of(r)?.Interval()?.Low)
        .Number($"{name}_high", r => of(r)?.Interval()?.High);

    /// <summary>The table.</summary>
    public DataFrame Table() => new(_columns);

    private TableColumns<TRow> With(DataFrameColumn column)
    {
        _columns.Add(column);
        return this;
    }
}
