namespace ChargeAudit.Logs.Formats;

/// <summary>
/// What fields a structure of a Parquet file has, each with its kind. A reader that knows a field takes its kind for granted: where the
/// bytes say another, it would read on in the middle of something and believe what it finds there.
/// </summary>
/// <remarks>*Source:* Apache Parquet format, parquet.thrift (numbers and kinds of the fields); Apache Thrift, Thrift Compact protocol
/// encoding (numbers of the kinds).</remarks>
internal sealed class ThriftShape
{
    private static readonly Field Truth = new(1), Byte = new(3), Whole = new(5), Bytes = new(8), Free = Of();
    private static readonly Field Wholes = new(9, Whole), Texts = new(9, Bytes);

    private static readonly Field Statistics = Of(Bytes, Bytes, Whole, Whole, Bytes, Bytes, Truth, Truth);

    private static readonly Field ColumnData = Of(
        Whole, Wholes, Texts, Whole, Whole, Whole, Whole, ListOf(Bytes, Bytes), Whole, Whole, Whole, Statistics,
        ListOf(Whole, Whole, Whole), Whole, Whole, Of(Whole, Wholes, Wholes), Free);

    private static readonly Field Columns = ListOf(Bytes, Whole, ColumnData, Whole, Whole, Whole, Whole, Free, Bytes);

    // Times of day and stamps: whether in UTC, and the unit.
    private static readonly Field OfTime = Of(Truth, Of(Free, Free, Free));

    private static readonly Field Logical = Of(
        Free, Free, Free, Free, Of(Whole, Whole), Free, OfTime, OfTime, null, Of(Byte, Truth), Free, Free, Free, Free, Free);

    private readonly Field?[] _fields;

    // The fields by their numbers, from 1 on; null for a number that no field has.
    private ThriftShape(params Field?[] fields) => _fields = fields;

    /// <summary>The footer.</summary>
    public static ThriftShape Footer { get; } = new(
        Whole,
        ListOf(Whole, Whole, Whole, Bytes, Whole, Whole, Whole, Whole, Whole, Logical),
        Whole,
        ListOf(Columns, Whole, Whole, ListOf(Whole, Truth, Truth), Whole, Whole, Whole),
        ListOf(Bytes, Bytes),
        Bytes,
        ListOf(),
        Free,
        Bytes);

    /// <summary>The head of a page.</summary>
    public static ThriftShape PageHead { get; } = new(
        Whole,
        Whole,
        Whole,
        Whole,
        Of(Whole, Whole, Whole, Whole, Statistics),
        Free,
        Of(Whole, Whole, Truth),
        Of(Whole, Whole, Whole, Whole, Whole, Whole, Truth, Statistics));

    /// <summary>The field of a number; null where it is not known, and every reader passes over it.</summary>
    public Field? FieldOf(int id) => id >= 1 && id <= _fields.Length ? _fields[id - 1] : null;

    private static Field Of(params Field?[] fields) => new(12, Inner: new(fields));

    private static Field ListOf(params Field?[] fields) => new(9, Of(fields));

    /// <summary>A field.</summary>
    /// <param name="Kind">Its kind; 5: a whole number of any width above a byte, 1: a truth value.</param>
    /// <param name="Item">Of a list: its items.</param>
    /// <param name="Inner">Of a structure: what it has.</param>
    public sealed record Field(int Kind, Field? Item = null, ThriftShape? Inner = null)
    {
        /// <summary>Whether bytes that say such a kind hold such a field.</summary>
        public bool Is(int kind) => Kind switch
        {
            5 => kind is >= 4 and <= 6,
            1 => kind is 1 or 2,
            9 => kind is 9 or 10,
            _ => kind == Kind,
        };
    }
}
