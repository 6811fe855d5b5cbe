using System.Buffers;
using System.Security.Cryptography;
using System.Text;
using ChargeAudit.Measuring.Integration;
using ChargeAudit.Metrology.Statistics;
using Parquet;
using Parquet.Schema;

namespace ChargeAudit.Measuring.Summaries;

/// <summary>The rows of a summary's file: cells of power over time, cells of what may have flowed unseen, and readings of the counter, one
/// after the other. A missing sum is zero. A missing least reading means that there is none, and a missing greatest reading equals the
/// least. Arrays this large are lent and given back, as fresh ones for each log would fill the memory.</summary>
internal sealed class SummaryRows(int count) : SummaryTable
{
    /// <summary>Names of the columns of numbers, in order.</summary>
    public static readonly string[] Names = ["start_s", "least_w", "greatest_w", "energy_j", "energy_rest_j", "covered_s", "covered_rest_s",
        "bridged_s", "bridged_rest_s", "voltage_v_s", "voltage_rest_v_s", "charge_c", "charge_rest_c", "squared_current_a2_s",
        "squared_current_rest_a2_s"];

    private const int AfterGapMark = 8;
    private const string KindColumn = "kind";
    private const string ReadingsColumn = "readings";
    private const string MarksColumn = "marks";

    /// <summary>What each row is.</summary>
    public string[] Kinds { get; } = new string[count];

    /// <summary>Readings in a cell; the line of a counter's reading.</summary>
    public long[] Readings { get; } = new long[count];

    /// <summary>Of a counter's reading, what it is, and whether a gap lies before it; 0 for cells.</summary>
    public int[] Marks { get; } = new int[count];

    /// <summary>The columns of numbers; they may be longer than there are rows.</summary>
    private double?[][] Numbers { get; } = [.. Names.Select(_ => Lent(count))];

    /// <summary>Number of the columns of numbers.</summary>
    public int Columns => Numbers.Length;

    /// <summary>A column of numbers.</summary>
    public Memory<double?> Column(int index) => Numbers[index].AsMemory(0, Kinds.Length);

    /// <inheritdoc/>
    public override IReadOnlyList<DataField> Fields() => [new DataField<string>(KindColumn), new DataField<long>(ReadingsColumn, false),
        new DataField<int>(MarksColumn, false), .. Names.Select(n => new DataField<double>(n, true))];

    /// <inheritdoc/>
    public override async Task WriteAsync(ParquetRowGroupWriter group, DataField[] fields)
    {
        await group.WriteAsync(fields[0], Kinds).ConfigureAwait(false);
        await group.WriteAsync<long>(fields[1], Readings).ConfigureAwait(false);
        await group.WriteAsync<int>(fields[2], Marks).ConfigureAwait(false);
        for (int i = 0; i < Columns; i++)
        {
            await group.WriteAsync<double>(fields[3 + i], Column(i)).ConfigureAwait(false);
        }
    }

    /// <inheritdoc/>
    public override async Task ReadAsync(ParquetRowGroupReader group, DataField[] fields)
    {
        var kinds = new string?[Kinds.Length];
        await group.ReadAsync(fields[0], kinds.AsMemory()).ConfigureAwait(false);
        for (int i = 0; i < kinds.Length; i++)
        {
            Kinds[i] = kinds[i] ?? "";
        }

        await group.ReadAsync<long>(fields[1], Readings.AsMemory()).ConfigureAwait(false);
        await group.ReadAsync<int>(fields[2], Marks.AsMemory()).ConfigureAwait(false);
        for (int i = 0; i < Columns; i++)
        {
            await group.ReadAsync<double>(fields[3 + i], Column(i)).ConfigureAwait(false);
        }
    }

    /// <inheritdoc/>
    public override void AddTo(IncrementalHash hash)
    {
        foreach (string kind in Kinds)
        {
            hash.AppendData(Encoding.UTF8.GetBytes(kind));
            hash.AppendData([0]);
        }

        Add<long>(hash, Readings);
        Add<int>(hash, Marks);
        for (int c = 0; c < Columns; c++)
        {
            Add(hash, Column(c).Span);
        }
    }

    /// <inheritdoc/>
    protected override void GiveBack()
    {
        foreach (double?[] column in Numbers)
        {
            ArrayPool<double?>.Shared.Return(column);
        }

        Array.Clear(Numbers);
    }

    // What a reader leaves out must not be what stood there before.
    private static double?[] Lent(int count)
    {
        double?[] column = ArrayPool<double?>.Shared.Rent(count);
        column.AsSpan(0, count).Clear();
        return column;
    }

    /// <summary>Puts cells down from a row on.</summary>
    public void Put(int from, string kind, EnvelopeState envelope)
    {
        double widthS = Math.ScaleB(1, envelope.Exponent);
        for (int i = 0; i < envelope.Cells.Length; i++)
        {
            ref readonly var cell = ref envelope.Cells[i];
            int row = from + i;
            (Kinds[row], Readings[row]) = (kind, cell.Readings);
            Numbers[0][row] = (envelope.First + i) * widthS;
            Numbers[1][row] = double.IsPositiveInfinity(cell.MinPowerW) ? null : cell.MinPowerW;
            Numbers[2][row] = double.IsNegativeInfinity(cell.MaxPowerW) || Same(cell.MaxPowerW, cell.MinPowerW) ? null : cell.MaxPowerW;
            PutSum(3, row, cell.EnergyJ);
            PutSum(5, row, cell.CoveredS);
            PutSum(7, row, cell.BridgedS);
            PutSum(9, row, cell.VoltSeconds);
            PutSum(11, row, cell.ChargeC);
            PutSum(13, row, cell.SquaredCurrentS);
        }
    }

    /// <summary>Cells, taken up from a row on.</summary>
    /// <exception cref="InvalidDataException">They are of another kind.</exception>
    public EnvelopeBucket[] Cells(int from, int cells, string kind)
    {
        var taken = new EnvelopeBucket[cells];
        for (int i = 0; i < cells; i++)
        {
            int row = from + i;
            CheckKind(row, kind);
            taken[i] = new EnvelopeBucket
            {
                Readings = Readings[row],
                MinPowerW = Numbers[1][row] ?? double.PositiveInfinity,
                MaxPowerW = Numbers[2][row] ?? Numbers[1][row] ?? double.NegativeInfinity,
                EnergyJ = Sum(3, row),
                CoveredS = Sum(5, row),
                BridgedS = Sum(7, row),
                VoltSeconds = Sum(9, row),
                ChargeC = Sum(11, row),
                SquaredCurrentS = Sum(13, row),
            };
        }

        return taken;
    }

    /// <summary>Puts a counter's readings down from a row on.</summary>
    public void Put(int from, string kind, IReadOnlyList<CounterPoint> points)
    {
        for (int i = 0; i < points.Count; i++)
        {
            var point = points[i];
            int row = from + i;
            (Kinds[row], Readings[row]) = (kind, point.Line);
            (Numbers[0][row], Numbers[3][row]) = (point.TimeS, point.ReadingJ);
            Marks[row] = (int)point.Step + (point.AfterGap ? AfterGapMark : 0);
        }
    }

    /// <summary>A counter's readings, taken up from a row on.</summary>
    /// <exception cref="InvalidDataException">They are of another kind.</exception>
    public CounterPoint[] Points(int from, int points, string kind)
    {
        var taken = new CounterPoint[points];
        for (int i = 0; i < points; i++)
        {
            int row = from + i;
            CheckKind(row, kind);
            var step = (CounterVerdict)(Marks[row] & (AfterGapMark - 1));
            if (!Enum.IsDefined(step) || Numbers[0][row] is not { } timeS || Numbers[3][row] is not { } readingJ)
            {
                throw new InvalidDataException("a reading of the counter lacks its time or value");
            }

            taken[i] = new CounterPoint(timeS, readingJ, step, (Marks[row] & AfterGapMark) != 0, Readings[row]);
        }

        return taken;
    }

    private void PutSum(int column, int row, CompensatedSum sum)
    {
        Numbers[column][row] = IsZero(sum.Sum) ? null : sum.Sum;
        Numbers[column + 1][row] = IsZero(sum.Compensation) ? null : sum.Compensation;
    }

    // The zero with a minus sign has other bits, and is written down.
    private static bool IsZero(double value) => Same(value, 0);

    private static bool Same(double a, double b) => BitConverter.DoubleToInt64Bits(a) == BitConverter.DoubleToInt64Bits(b);

    private CompensatedSum Sum(int column, int row) => new(Numbers[column][row] ?? 0, Numbers[column + 1][row] ?? 0);

    private void CheckKind(int row, string kind)
    {
        if (Kinds[row] != kind)
        {
            throw new InvalidDataException($"row {row + 1} is of another kind than {kind}");
        }
    }
}
