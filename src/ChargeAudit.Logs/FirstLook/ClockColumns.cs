using System.Globalization;
using System.Text;
using ChargeAudit.Logs.Columns;
using ChargeAudit.Logs.Dialects;
using ChargeAudit.Logs.Numbers;
using ChargeAudit.Metrology.Units;

namespace ChargeAudit.Logs.FirstLook;

/// <summary>Tells which columns beside a date hold the clock time, or numbers that may be one.</summary>
internal sealed class ClockColumns(string path, Table table, NumberStyle numbers, LogColumn[] columns)
{
    private const int RowsLookedAt = 200;

    /// <summary>Whether a column holds clock times and no dates. Some clock times, such as 10.11.12, are dates as well; not all of a charge
    /// are.</summary>
    public bool IsClock(int index)
    {
        string[] fields = [.. table.Column(index).Where(f => f.Length > 0).Take(RowsLookedAt)];
        return IsSixDigits(index) || (fields.Length > 0 && fields.Count(Cells.IsClock) > 0.9 * fields.Length
            && !fields.All(f => Cells.IsStamp(Encoding.UTF8.GetBytes(f))));
    }

    /// <summary>Whether numbers without a unit may be times of day in every row: 1830 for half past six, or 0.770833 as worksheets keep
    /// it. Beside dates that is hardly an elapsed time.</summary>
    public bool MayBeClock(int index)
    {
        List<double> values = [];
        foreach (string field in table.Column(index).Where(f => f.Length > 0))
        {
            if (!NumberField.TryRead(Encoding.UTF8.GetBytes(field), numbers, out double value))
            {
                return false;
            }

            values.Add(value);
        }

        bool Clock(double v) => v == Math.Floor(v) && v is >= 0 and < 2400 && v % 100 < 60;
        return columns[index].Unit.Length == 0 && values.Count > 1 && values[^1] != values[0]
            && (values.TrueForAll(v => v is >= 0 and < 1) || (values.Exists(v => v >= 100) && values.TrueForAll(Clock)));
    }

    /// <summary>Refuses hours, minutes and seconds in columns of their own, which together are one time.</summary>
    /// <exception cref="Metrology.Diagnostics.InputException">There are such columns.</exception>
    public void RefuseParts()
    {
        string[] parts = [.. columns.Where(c => c.Why != ColumnFinder.ToldWhy && IsPartOfTime(c)).Select(c => c.Header)];
        if (parts.Length > 1)
        {
            throw LogErrors.PartsOfTime(path, LogErrors.List(parts));
        }
    }

    private bool IsPartOfTime(LogColumn column) => HeaderLexicon.TryFindUnit(column.Header, out Unit unit)
        && unit is { Kind: UnitKind.Time, Factor: 1 or 60 or 3600 }
        && table.Column(column.Index).Take(RowsLookedAt).All(f => f.Length == 0
            || (f.All(char.IsAsciiDigit) && NumberField.TryRead(Encoding.UTF8.GetBytes(f), numbers, out double n) && n is >= 0 and < 60));

    // 183000 for half past six, in every row.
    private bool IsSixDigits(int index) => columns[index].Unit.Length == 0 && table.Column(index).Any()
        && table.Column(index).All(f => f.Length == 6 && int.TryParse(f, NumberStyles.None, CultureInfo.InvariantCulture, out int n)
            && n / 10000 < 24 && n / 100 % 100 < 60 && n % 100 < 60);
}
