using Apache.Arrow;
using Apache.Arrow.Ipc;
using Apache.Arrow.Types;
using ChargeAudit.Metrology;
using Microsoft.Data.Analysis;

namespace ChargeAudit.Reports.Files;

/// <summary>
/// Writes a table as a file of Apache Arrow's IPC format: texts (UTF-8), doubles and booleans, one record batch, uncompressed; what is not
/// known is null. The table's own conversion to Arrow does not handle columns of text. <i>Source:</i> Arrow columnar format, "IPC File
/// Format".
/// </summary>
public static class ArrowTable
{
    /// <summary>The file's bytes.</summary>
    /// <param name="table">A table of text, double and boolean columns.</param>
    public static byte[] Of(DataFrame table)
    {
        ArgumentNullException.ThrowIfNull(table);
        var schema = new Schema(table.Columns.Select(c => new Field(c.Name, TypeOf(c), nullable: true)), metadata: null);
        using var batch = new RecordBatch(schema, table.Columns.Select(ArrayOf), checked((int)table.Rows.Count));
        using var bytes = new MemoryStream();
        using (var writer = new ArrowFileWriter(bytes, schema, leaveOpen: true))
        {
            writer.WriteRecordBatch(batch);
            writer.WriteEnd();
        }

        return bytes.ToArray();
    }

    private static IArrowType TypeOf(DataFrameColumn column) => column switch
    {
        StringDataFrameColumn => StringType.Default,
        BooleanDataFrameColumn => BooleanType.Default,
        _ => DoubleType.Default,
    };

    private static IArrowArray ArrayOf(DataFrameColumn column) => column switch
    {
        StringDataFrameColumn texts => new StringArray.Builder().AppendRange(
            texts.Select(t => t is null ? null! : WrittenMarks.Exact(t))).Build(),
        BooleanDataFrameColumn flags => Filled<bool, BooleanArray.Builder>(
            new BooleanArray.Builder(), flags, (b, v) => b.Append(v), b => b.AppendNull()).Build(),
        _ => Filled<double, DoubleArray.Builder>(
            new DoubleArray.Builder(), (DoubleDataFrameColumn)column, (b, v) => b.Append(v), b => b.AppendNull()).Build(),
    };

    private static TBuilder Filled<T, TBuilder>(
        TBuilder builder, IEnumerable<T?> values, Action<TBuilder, T> append, Action<TBuilder> appendNull)
        where T : struct
    {
        foreach (var value in values)
        {
            if (value is { } known)
            {
                append(builder, known);
            }
            else
            {
                appendNull(builder);
            }
        }

        return builder;
    }
}
