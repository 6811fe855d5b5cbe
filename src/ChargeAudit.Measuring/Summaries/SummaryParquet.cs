using System.IO.Compression;
using ChargeAudit.Logs.Formats;
using Parquet;
using Parquet.Schema;

namespace ChargeAudit.Measuring.Summaries;

/// <summary>Rows and metadata as Apache Parquet, in one row group.</summary>
internal static class SummaryParquet
{
    private const string KindColumn = "kind";
    private const string ReadingsColumn = "readings";
    private const string MarksColumn = "marks";

    /// <summary>The file's bytes.</summary>
    public static byte[] Write(SummaryRows rows, Dictionary<string, string> metadata)
    {
        using var bytes = new MemoryStream();
        WriteAsync(rows, metadata, bytes).GetAwaiter().GetResult();
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
    /// <exception cref="InvalidDataException">It is damaged, or claims what cannot be.</exception>
    public static (IReadOnlyDictionary<string, string> Metadata, SummaryRows Rows) Read(string path, Stream file)
    {
        ParquetBounds.Check(path, file);
        return ReadAsync(file).GetAwaiter().GetResult();
    }

    private static async Task WriteAsync(SummaryRows rows, Dictionary<string, string> metadata, Stream stream)
    {
        var schema = Schema();
        var options = new ParquetOptions
        {
            CompressionMethod = CompressionMethod.Zstd,
            CompressionLevel = CompressionLevel.Optimal,
        };
        await using var writer = await ParquetWriter.CreateAsync(schema, stream, options).ConfigureAwait(false);
        writer.CustomMetadata = metadata;
        using var group = writer.CreateRowGroup();
        var fields = schema.DataFields;
        await group.WriteAsync(fields[0], rows.Kinds).ConfigureAwait(false);
        await group.WriteAsync<long>(fields[1], rows.Readings).ConfigureAwait(false);
        await group.WriteAsync<int>(fields[2], rows.Marks).ConfigureAwait(false);
        for (int i = 0; i < rows.Columns; i++)
        {
            await group.WriteAsync<double>(fields[3 + i], rows.Column(i)).ConfigureAwait(false);
        }
    }

    private static async Task<bool> HasKeyAsync(Stream file, string key)
    {
        await using var reader = await ParquetReader.CreateAsync(file, leaveStreamOpen: true).ConfigureAwait(false);
        return reader.CustomMetadata.ContainsKey(key);
    }

    private static async Task<(IReadOnlyDictionary<string, string> Metadata, SummaryRows Rows)> ReadAsync(Stream file)
    {
        await using var reader = await ParquetReader.CreateAsync(file, leaveStreamOpen: true).ConfigureAwait(false);
        var expected = Schema();
        var fields = reader.Schema.DataFields;
        if (reader.RowGroupCount != 1 || !fields.Select(f => f.Name).SequenceEqual(expected.DataFields.Select(f => f.Name)))
        {
            throw new InvalidDataException("its columns are not those of a summary");
        }

        using var group = reader.OpenRowGroupReader(0);
        var rows = new SummaryRows(checked((int)group.RowCount));
        var kinds = new string?[rows.Kinds.Length];
        await group.ReadAsync(fields[0], kinds.AsMemory()).ConfigureAwait(false);
        for (int i = 0; i < kinds.Length; i++)
        {
            rows.Kinds[i] = kinds[i] ?? "";
        }

        await group.ReadAsync<long>(fields[1], rows.Readings.AsMemory()).ConfigureAwait(false);
        await group.ReadAsync<int>(fields[2], rows.Marks.AsMemory()).ConfigureAwait(false);
        for (int i = 0; i < rows.Columns; i++)
        {
            await group.ReadAsync<double>(fields[3 + i], rows.Column(i)).ConfigureAwait(false);
        }

        return (reader.CustomMetadata, rows);
    }

    // A field belongs to one schema only.
    private static ParquetSchema Schema() => new([new DataField<string>(KindColumn), new DataField<long>(ReadingsColumn, false),
        new DataField<int>(MarksColumn, false), .. SummaryRows.Names.Select(n => new DataField<double>(n, true))]);
}
