using System.IO.Compression;
using ChargeAudit.Logs.Formats;
using Parquet;
using Parquet.Schema;

namespace ChargeAudit.Measuring.Summaries;

/// <summary>Rows and metadata as Apache Parquet, in one row group.</summary>
internal static class SummaryParquet
{
    /// <summary>The file's bytes.</summary>
    public static byte[] Write(SummaryTable table, Dictionary<string, string> metadata)
    {
        using var bytes = new MemoryStream();
        WriteAsync(table, metadata, bytes).GetAwaiter().GetResult();
        return bytes.ToArray();
    }

    /// <summary>Whether the file holds an entry of this name; its rows are not looked at.</summary>
    public static bool HasKey(string path, Stream file, string key)
    {
        Span<byte> head = stackalloc byte[4];
        if (file.ReadAtLeast(head, 4, throwOnEndOfStream: false) < 4 || !head.SequenceEqual("PAR1"u8))
        {
            return false;
        }

        ParquetBounds.CheckFooter(path, file);
        return HasKeyAsync(file, key).GetAwaiter().GetResult();
    }

    /// <summary>What a file holds.</summary>
    /// <param name="path">The file's name, for messages.</param>
    /// <param name="file">The file.</param>
    /// <param name="choose">Tells from the metadata and the number of rows what table there is.</param>
    /// <exception cref="InvalidDataException">It is damaged, or claims what cannot be.</exception>
    public static SummaryTable Read(string path, Stream file, Func<IReadOnlyDictionary<string, string>, int, SummaryTable> choose)
    {
        ParquetBounds.Check(path, file);
        return ReadAsync(file, choose).GetAwaiter().GetResult();
    }

    private static async Task WriteAsync(SummaryTable table, Dictionary<string, string> metadata, Stream stream)
    {
        var schema = new ParquetSchema([.. table.Fields()]);
        var options = new ParquetOptions
        {
            CompressionMethod = CompressionMethod.Zstd,
            CompressionLevel = CompressionLevel.Optimal,
        };
        foreach (var (name, encoding) in table.Encodings)
        {
            options.ColumnEncodingHints[name] = encoding;
        }

        await using var writer = await ParquetWriter.CreateAsync(schema, stream, options).ConfigureAwait(false);
        writer.CustomMetadata = metadata;
        using var group = writer.CreateRowGroup();
        await table.WriteAsync(group, schema.DataFields).ConfigureAwait(false);
    }

    private static async Task<bool> HasKeyAsync(Stream file, string key)
    {
        await using var reader = await ParquetReader.CreateAsync(file, leaveStreamOpen: true).ConfigureAwait(false);
        return reader.CustomMetadata.ContainsKey(key);
    }

    private static async Task<SummaryTable> ReadAsync(Stream file, Func<IReadOnlyDictionary<string, string>, int, SummaryTable> choose)
    {
        await using var reader = await ParquetReader.CreateAsync(file, leaveStreamOpen: true).ConfigureAwait(false);
        if (reader.RowGroupCount != 1)
        {
            throw new InvalidDataException("it holds more row groups than one, or none");
        }

        using var group = reader.OpenRowGroupReader(0);
        var table = choose(reader.CustomMetadata, checked((int)group.RowCount));
        var fields = reader.Schema.DataFields;
        if (!fields.Select(ShapeOf).SequenceEqual(table.Fields().Select(ShapeOf)))
        {
            table.Dispose();
            throw new InvalidDataException("its columns are not those of a summary");
        }

        await table.ReadAsync(group, fields).ConfigureAwait(false);
        return table;
    }

    private static (string Name, Type Type, bool IsNullable, int Scale) ShapeOf(DataField field) =>
        (field.Name, field.ClrType, field.IsNullable, field is DecimalDataField number ? number.Scale : 0);
}
