using System.Runtime.InteropServices;
using System.Security.Cryptography;
using Parquet;
using Parquet.Schema;

namespace ChargeAudit.Measuring.Summaries;

/// <summary>The table of a summary's file: cells, or the rows that make them.</summary>
internal abstract class SummaryTable : IDisposable
{
    // Numbers that are hashed at a time.
    private const int MostAtOnce = 512;

    /// <summary>Its columns, in order. Each call makes new ones, as a field belongs to one schema only.</summary>
    public abstract IReadOnlyList<DataField> Fields();

    /// <summary>How columns are encoded, by their names; those that are not named as their type is wont to be.</summary>
    public virtual IReadOnlyDictionary<string, EncodingHint> Encodings => new Dictionary<string, EncodingHint>();

    /// <summary>Writes its columns.</summary>
    /// <param name="group">Takes them.</param>
    /// <param name="fields">The fields of the file.</param>
    public abstract Task WriteAsync(ParquetRowGroupWriter group, DataField[] fields);

    /// <summary>Fills its columns.</summary>
    /// <param name="group">Holds them.</param>
    /// <param name="fields">The fields of the file.</param>
    public abstract Task ReadAsync(ParquetRowGroupReader group, DataField[] fields);

    /// <summary>Adds what it holds to a digest: what was written, not how.</summary>
    public abstract void AddTo(IncrementalHash hash);

    /// <inheritdoc/>
    public void Dispose()
    {
        GiveBack();
        GC.SuppressFinalize(this);
    }

    /// <summary>Gives back what was lent.</summary>
    protected virtual void GiveBack()
    {
    }

    /// <summary>Adds numbers to a digest.</summary>
    protected static void Add(IncrementalHash hash, ReadOnlySpan<double?> values)
    {
        Span<double> plain = stackalloc double[MostAtOnce];
        while (values.Length > 0)
        {
            int some = Math.Min(values.Length, MostAtOnce);
            for (int i = 0; i < some; i++)
            {
                // What is not there has bits that no number has.
                plain[i] = values[i] ?? BitConverter.Int64BitsToDouble(-1);
            }

            Add<double>(hash, plain[..some]);
            values = values[some..];
        }
    }

    /// <summary>Adds numbers to a digest.</summary>
    protected static void Add<T>(IncrementalHash hash, ReadOnlySpan<T> values)
        where T : struct => hash.AppendData(MemoryMarshal.AsBytes(values));
}
