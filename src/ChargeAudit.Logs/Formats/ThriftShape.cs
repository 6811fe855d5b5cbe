namespace ChargeAudit.Logs.Formats;

/// <summary>
/// What fields a structure of a Parquet file has, each with its kind. A reader that knows a field takes its kind for granted: where the
/// bytes say another, it would read on in the middle of something and believe what it finds there.
/// </summary>
/// <remarks>*Source:* Apache Parquet format, parquet.thrift (numbers and kinds of the fields); Apache Thrift, Thrift Compact protocol
/// encoding (numbers of the kinds).</remarks>
internal sealed class ThriftShape
{
    private static readonly ThriftShape Any = new([]);
    private static readonly Field Truth = new(1), Byte = new(3), Whole = new(5), Bytes = new(8), Free = Of(Any);
    private static readonly Field Wholes = new(9, Whole), Texts = new(9, Bytes);

    private static readonly ThriftShape Statistics = new(new()
    {
        [1] = Bytes,
        [2] = Bytes,
        [3] = Whole,
        [4] = Whole,
        [5] = Bytes,
        [6] = Bytes,
        [7] = Truth,
        [8] = Truth,
    });

    private static readonly ThriftShape ColumnData = new(new()
    {
        [1] = Whole,
        [2] = Wholes,
        [3] = Texts,
        [4] = Whole,
        [5] = Whole,
        [6] = Whole,
        [7] = Whole,
        [8] = ListOf(new(new() { [1] = Bytes, [2] = Bytes })),
        [9] = Whole,
        [10] = Whole,
        [11] = Whole,
        [12] = Of(Statistics),
        [13] = ListOf(new(new() { [1] = Whole, [2] = Whole, [3] = Whole })),
        [14] = Whole,
        [15] = Whole,
        [16] = Of(new(new() { [1] = Whole, [2] = Wholes, [3] = Wholes })),
        [17] = Free,
    });

    private static readonly ThriftShape Column = new(new()
    {
        [1] = Bytes,
        [2] = Whole,
        [3] = Of(ColumnData),
        [4] = Whole,
        [5] = Whole,
        [6] = Whole,
        [7] = Whole,
        [8] = Free,
        [9] = Bytes,
    });

    // Times of day and stamps: whether in UTC, and the unit.
    private static readonly Field OfTime = Of(new(new() { [1] = Truth, [2] = Of(new(new() { [1] = Free, [2] = Free, [3] = Free })) }));

    private static readonly ThriftShape Logical = new(new()
    {
        [1] = Free,
        [2] = Free,
        [3] = Free,
        [4] = Free,
        [5] = Of(new(new() { [1] = Whole, [2] = Whole })),
        [6] = Free,
        [7] = OfTime,
        [8] = OfTime,
        [10] = Of(new(new() { [1] = Byte, [2] = Truth })),
        [11] = Free,
        [12] = Free,
        [13] = Free,
        [14] = Free,
        [15] = Free,
    });

    private static readonly ThriftShape Schema = new(new()
    {
        [1] = Whole,
        [2] = Whole,
        [3] = Whole,
        [4] = Bytes,
        [5] = Whole,
        [6] = Whole,
        [7] = Whole,
        [8] = Whole,
        [9] = Whole,
        [10] = Of(Logical),
    });

    private readonly Dictionary<int, Field> _fields;

    private ThriftShape(Dictionary<int, Field> fields) => _fields = fields;

    /// <summary>The footer.</summary>
    public static ThriftShape Footer { get; } = new(new()
    {
        [1] = Whole,
        [2] = ListOf(Schema),
        [3] = Whole,
        [4] = ListOf(new(new()
        {
            [1] = ListOf(Column),
            [2] = Whole,
            [3] = Whole,
            [4] = ListOf(new(new() { [1] = Whole, [2] = Truth, [3] = Truth })),
            [5] = Whole,
            [6] = Whole,
            [7] = Whole,
        })),
        [5] = ListOf(new(new() { [1] = Bytes, [2] = Bytes })),
        [6] = Bytes,
        [7] = ListOf(Any),
        [8] = Free,
        [9] = Bytes,
    });

    /// <summary>The head of a page.</summary>
    public static ThriftShape PageHead { get; } = new(new()
    {
        [1] = Whole,
        [2] = Whole,
        [3] = Whole,
        [4] = Whole,
        [5] = Of(new(new() { [1] = Whole, [2] = Whole, [3] = Whole, [4] = Whole, [5] = Of(Statistics) })),
        [6] = Free,
        [7] = Of(new(new() { [1] = Whole, [2] = Whole, [3] = Truth })),
        [8] = Of(new(new()
        {
            [1] = Whole,
            [2] = Whole,
            [3] = Whole,
            [4] = Whole,
            [5] = Whole,
            [6] = Whole,
            [7] = Truth,
            [8] = Of(Statistics),
        })),
    });

    /// <summary>The field of a number; null where it is not known, and every reader passes over it.</summary>
    public Field? FieldOf(int id) => _fields.GetValueOrDefault(id);

    private static Field Of(ThriftShape shape) => new(12, Inner: shape);

    private static Field ListOf(ThriftShape shape) => new(9, Of(shape));

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
