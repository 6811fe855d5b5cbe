using ChargeAudit.Logs;
using ChargeAudit.Logs.Reading;
using ChargeAudit.Metrology;

namespace ChargeAudit.Measuring.Integration;

/// <summary>
/// The rows that a summary's cells are made of, as long as they are few: played through the same sums once more they give the same cells,
/// and they take less room. Rows that add nothing to any cell are left out. Mutable while a log is read; not safe for concurrent writers.
/// </summary>
internal sealed class KeptRows
{
    /// <summary>With more rows than these, cells take less room.</summary>
    public const int Most = 1 << 19;

    /// <summary>Mark of a row before which the clock was set or the sensor away.</summary>
    public const int AfterBreak = 1;

    /// <summary>Mark of the first row of a piece that was summed apart.</summary>
    public const int StartsPiece = 2;

    private const int RoomAtFirst = 1024;

    private readonly SummaryRules _rules;
    private readonly double[][] _values;
    private double[] _timesS = [];
    private long[] _lines = [];
    private int[] _marks = [];

    /// <summary>No rows yet.</summary>
    /// <param name="rules">The rules by which they are summed.</param>
    public KeptRows(SummaryRules rules)
    {
        _rules = rules;
        Quantities = QuantitiesOf(rules.Source);
        _values = [.. Quantities.Select(_ => Array.Empty<double>())];
    }

    /// <summary>Rows as they were written down.</summary>
    public KeptRows(SummaryRules rules, double[] timesS, long[] lines, int[] marks, IReadOnlyDictionary<LogQuantity, double[]> values)
        : this(rules)
    {
        (_timesS, _lines, _marks, Count) = (timesS, lines, marks, timesS.Length);
        for (int i = 0; i < _values.Length; i++)
        {
            _values[i] = values.GetValueOrDefault(Quantities[i], []);
        }
    }

    /// <summary>What is kept of each row.</summary>
    public IReadOnlyList<LogQuantity> Quantities { get; }

    /// <summary>Number of rows.</summary>
    public int Count { get; private set; }

    /// <summary>Whether there were too many, so that none is kept.</summary>
    public bool AreTooMany { get; private set; }

    /// <summary>Times since the log's first sample. [s]</summary>
    public ReadOnlySpan<double> TimesS => _timesS.AsSpan(0, Count);

    /// <summary>Line numbers.</summary>
    public ReadOnlySpan<long> Lines => _lines.AsSpan(0, Count);

    /// <summary>Marks.</summary>
    public ReadOnlySpan<int> Marks => _marks.AsSpan(0, Count);

    /// <summary>Readings of a quantity in its coherent unit, NaN where a row has none; empty where no row has.</summary>
    /// <param name="index">Place of the quantity in <see cref="Quantities"/>.</param>
    public ReadOnlySpan<double> Of(int index) => _values[index].Length == 0 ? [] : _values[index].AsSpan(0, Count);

    /// <summary>What a source of power takes of a row.</summary>
    public static IReadOnlyList<LogQuantity> QuantitiesOf(PowerSource source) => source switch
    {
        PowerSource.PowerColumn => [LogQuantity.Voltage, LogQuantity.Current, LogQuantity.Power, LogQuantity.Energy],
        PowerSource.DirectCurrentProduct => [LogQuantity.Voltage, LogQuantity.Current, LogQuantity.Energy],
        PowerSource.ProductWithPowerFactor => [LogQuantity.Voltage, LogQuantity.Current, LogQuantity.PowerFactor, LogQuantity.Energy],
        PowerSource.ApparentWithPowerFactor =>
            [LogQuantity.Voltage, LogQuantity.Current, LogQuantity.ApparentPower, LogQuantity.PowerFactor, LogQuantity.Energy],
        _ => [LogQuantity.Energy],
    };

    /// <summary>Keeps a row.</summary>
    public void Add(in Sample sample)
    {
        if (AreTooMany || !AddsToCells(in sample))
        {
            return;
        }

        if (Count == Most)
        {
            GiveUp();
            return;
        }

        Reserve(Count + 1);
        _timesS[Count] = sample.TimeS;
        _lines[Count] = sample.Line;
        _marks[Count] = sample.AfterClockStep | sample.AfterAway ? AfterBreak : 0;
        for (int i = 0; i < _values.Length; i++)
        {
            _values[i][Count] = ValueOf(in sample, Quantities[i]);
        }

        Count++;
    }

    /// <summary>Keeps many rows.</summary>
    public void Add(in RowBlock rows)
    {
        for (int i = 0; i < rows.Count && !AreTooMany; i++)
        {
            Add(rows.Row(i));
        }
    }

    /// <summary>Keeps the rows of the piece that follows, which is left as it is.</summary>
    public void Join(KeptRows piece)
    {
        if (AreTooMany || piece.AreTooMany || Count + piece.Count > Most)
        {
            GiveUp();
            return;
        }

        if (piece.Count == 0)
        {
            return;
        }

        Reserve(Count + piece.Count);
        piece.TimesS.CopyTo(_timesS.AsSpan(Count));
        piece.Lines.CopyTo(_lines.AsSpan(Count));
        piece.Marks.CopyTo(_marks.AsSpan(Count));
        for (int i = 0; i < _values.Length; i++)
        {
            piece.Of(i).CopyTo(_values[i].AsSpan(Count));
        }

        _marks[Count] |= StartsPiece;
        Count += piece.Count;
    }

    /// <summary>The summary of these rows, summed in the pieces that they came in.</summary>
    public LogSummary Summed()
    {
        var whole = new LogSummary.Builder(_rules);
        var into = whole;
        LogSummary.Builder? spent = null;
        for (int i = 0; i < Count; i++)
        {
            if ((_marks[i] & StartsPiece) != 0)
            {
                spent = JoinPiece(whole, into) ?? spent;
                into = whole.ForLaterPiece(spent);
            }

            into.Add(Row(i));
        }

        JoinPiece(whole, into);
        return whole.Finish();
    }

    private static LogSummary.Builder? JoinPiece(LogSummary.Builder whole, LogSummary.Builder piece)
    {
        if (ReferenceEquals(whole, piece))
        {
            return null;
        }

        whole.Join(piece);
        return piece;
    }

    private Sample Row(int index)
    {
        var sample = Sample.Empty(_timesS[index], _lines[index]) with { AfterClockStep = (_marks[index] & AfterBreak) != 0 };
        for (int i = 0; i < _values.Length; i++)
        {
            double value = _values[i].Length == 0 ? double.NaN : _values[i][index];
            sample = Quantities[i] switch
            {
                LogQuantity.Voltage => sample with { VoltageV = value },
                LogQuantity.Current => sample with { CurrentA = value },
                LogQuantity.Power => sample with { PowerW = value },
                LogQuantity.ApparentPower => sample with { ApparentPowerVA = value },
                LogQuantity.PowerFactor => sample with { PowerFactor = value },
                _ => sample with { EnergyCounterJ = value },
            };
        }

        return sample;
    }

    private static double ValueOf(in Sample sample, LogQuantity quantity) => quantity switch
    {
        LogQuantity.Voltage => sample.VoltageV,
        LogQuantity.Current => sample.CurrentA,
        LogQuantity.Power => sample.PowerW,
        LogQuantity.ApparentPower => sample.ApparentPowerVA,
        LogQuantity.PowerFactor => sample.PowerFactor,
        _ => sample.EnergyCounterJ,
    };

    // The same questions that the sums ask of a row before they take it.
    private bool AddsToCells(in Sample sample)
    {
        if (sample.TimeS < _rules.FromS || sample.TimeS > _rules.ToS)
        {
            return false;
        }

        return _rules.Source == PowerSource.EnergyCounter
            ? !double.IsNaN(sample.EnergyCounterJ)
            : Math.Abs(PowerRule.PowerW(_rules.Source, in sample)) <= _rules.ImplausibleAboveW;
    }

    private void Reserve(int rows)
    {
        if (rows <= _timesS.Length)
        {
            return;
        }

        int room = Math.Min(Most, Math.Max(Math.Max(rows, RoomAtFirst), 2 * _timesS.Length));
        Array.Resize(ref _timesS, room);
        Array.Resize(ref _lines, room);
        Array.Resize(ref _marks, room);
        for (int i = 0; i < _values.Length; i++)
        {
            Array.Resize(ref _values[i], room);
        }
    }

    private void GiveUp()
    {
        AreTooMany = true;
        Count = 0;
        (_timesS, _lines, _marks) = ([], [], []);
        Array.Fill(_values, []);
    }
}
