using ChargeAudit.Metrology;
using Microsoft.Data.Analysis;
using Parquet;
using Parquet.Schema;

namespace ChargeAudit.Reports.Files;

/// <summary>Writes a table as Apache Parquet: texts, doubles and booleans, one row group; what is not known is null.</summary>
public static class ParquetTable
{
    /// <summary>The file's bytes.</summary>
    /// <param name="table">A table of text, double and boolean columns.</param>
    public static byte[] Of(DataFrame table)
    {
        ArgumentNullException.ThrowIfNull(table);
        using var bytes = new MemoryStream();
        WriteAsync(table, bytes).GetAwaiter().GetResult();
        return bytes.ToArray();
    }

    private static async Task WriteAsync(DataFrame table, Stream stream)
    {
        DataField[] fields = [.. table.Columns.Select(c => c switch
        {
            StringDataFrameColumn => new DataField<string>(c.Name),
            BooleanDataFrameColumn => new DataField<bool>(c.Name, true),
            _ => (DataField)new DataField<double>(c.Name, true),
        })];
        await using var writer = await ParquetWriter.CreateAsync(new ParquetSchema(fields), stream).ConfigureAwait(false);
        using var rows = writer.CreateRowGroup();
        for (int i = 0; i < fields.Length; i++)
        {
            if (table.Columns[i] is StringDataFrameColumn texts)
            {
                string[] exact = [.. texts.Select(t => t is null ? null! : WrittenMarks.Exact(t))];
                await rows.WriteAsync(fields[i], exact).ConfigureAwait(false);
            }
            else if (table.Columns[i] is BooleanDataFrameColumn flags)
            {
                bool?[] known = [.. flags.Select(f => f)];
                await rows.WriteAsync<bool>(fields[i], known.AsMemory()).ConfigureAwait(false);
            }
            else
            {
                double?[] numbers = [.. ((DoubleDataFrameColumn)table.Columns[i]).Select(n => n)];
                await rows.WriteAsync<double>(fields[i], numbers.AsMemory()).ConfigureAwait(false);
            }
        }
    }
}
