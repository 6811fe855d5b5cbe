using System.Runtime.ExceptionServices;
using System.Text;
using ChargeAudit.Logs.Dialects;
using ChargeAudit.Logs.Layout;
using ChargeAudit.Logs.Numbers;
using ChargeAudit.Logs.Time;
using CsvHelper;

namespace ChargeAudit.Logs.Reading;

/// <summary>What has become of a piece's rows.</summary>
internal enum PieceState
{
    /// <summary>Nothing: the ordinary path reads them.</summary>
    Unread,

    /// <summary>They were summed.</summary>
    Summed,

    /// <summary>They were parsed.</summary>
    Parsed,
}

/// <summary>A piece of a log, cut at line ends: its text, and what became of its rows. Filled by one thread, parsed by whichever is free
/// first.</summary>
/// <param name="plan">How to read a row.</param>
/// <param name="pieceBytes">Bytes of a piece; more where a line is longer.</param>
internal sealed class Piece<TSink>(TextPlan plan, int pieceBytes)
    where TSink : struct, ISampleSink
{
    private const int LongestLineBytes = 1 << 22;

    private readonly PlainRows? _plain = PlainRows.For(plan);
    private int _begun;
    private readonly object _gate = new();
    private volatile bool _isDone;
    private Exception? _failure;
    private bool _toSum;
    private double _plainStepS;

    /// <summary>What the piece's samples went to, where it was summed.</summary>
    public TSink Sink;

    /// <summary>The text, with room after it that is never filled.</summary>
    public byte[] Bytes { get; private set; } = new byte[pieceBytes + Marks.Block];

    public int Length { get; private set; }

    /// <summary>Rows with their raw times, where all lines were plain rows.</summary>
    public Sample[] Rows { get; private set; } = [];

    public int Count { get; private set; }

    public PieceState State { get; set; }

    public long FirstLine { get; set; }

    /// <summary>What the piece's times were shifted by, where it was summed. [s]</summary>
    public double OffsetS { get; private set; }

    /// <summary>What was summed.</summary>
    public PlainRows.Extent Extent { get; private set; }

    /// <summary>Lines by their line feeds; without any, by their carriage returns.</summary>
    public long Lines { get; private set; }

    private long CountLines()
    {
        ReadOnlySpan<byte> bytes = Bytes.AsSpan(0, Length);
        int feeds = bytes.Count((byte)'\n');
        return feeds > 0 ? feeds : bytes.Count((byte)'\r');
    }

    public void PrepareToSum(TSink fork, double offsetS, double stepS)
    {
        _toSum = true;
        Sink = fork;
        OffsetS = offsetS;
        _plainStepS = stepS;
    }

    /// <summary>Fills the piece up to a line end; returns what lies after it.</summary>
    public byte[] Fill(Stream text, byte[] carry, out bool ended, out bool tooLong)
    {
        tooLong = false;
        int filled = carry.Length;
        if (filled > Bytes.Length - Marks.Block)
        {
            Bytes = new byte[(2 * filled) + Marks.Block];
        }

        carry.CopyTo(Bytes, 0);
        while (true)
        {
            int room = Bytes.Length - Marks.Block;
            filled += text.ReadAtLeast(Bytes.AsSpan(filled, room - filled), room - filled, throwOnEndOfStream: false);
            ended = filled < room;
            int cut = ended ? filled : LineEnd(Bytes.AsSpan(0, filled));
            if (cut > 0 || ended)
            {
                Length = cut;
                Lines = CountLines();
                return Bytes[cut..filled];
            }

            if (filled >= LongestLineBytes)
            {
                tooLong = true;
                return [];
            }

            byte[] larger = new byte[(2 * room) + Marks.Block];
            Bytes.CopyTo(larger, 0);
            Bytes = larger;
        }
    }

    /// <summary>Whether the piece is parsed, by whichever thread.</summary>
    public bool IsDone => _isDone;

    /// <summary>Waits until the piece is parsed.</summary>
    public void Wait()
    {
        lock (_gate)
        {
            while (!_isDone)
            {
                Monitor.Wait(_gate);
            }
        }

        if (_failure is not null)
        {
            ExceptionDispatchInfo.Throw(_failure);
        }
    }

    /// <summary>Lets the piece be parsed by whichever thread is free first.</summary>
    public void Begin()
    {
        _isDone = false;
        _failure = null;
        Volatile.Write(ref _begun, 0);
    }

    /// <summary>Parses the piece if no thread has begun to.</summary>
    public void ParseOnce()
    {
        if (Interlocked.Exchange(ref _begun, 1) != 0)
        {
            return;
        }

        try
        {
            Parse();
        }
#pragma warning disable CA1031 // It is thrown again where the piece is taken.
        catch (Exception e)
#pragma warning restore CA1031
        {
            _failure = e;
        }

        lock (_gate)
        {
            _isDone = true;
            Monitor.PulseAll(_gate);
        }
    }

    // Sums all rows, or else parses them; leaves the piece unread at the first line that is not a plain row.
    private void Parse()
    {
        Count = 0;
        ReadOnlySpan<byte> bytes = Bytes.AsSpan(0, Length);
        bool sum = _toSum;
        _toSum = false;
        if (sum && !_plain!.SkipsColumns && TrySum())
        {
            return;
        }

        // Fields that are not read may hold anything.
        if (!Ascii.IsValid(bytes) || bytes.Contains((byte)0))
        {
            return;
        }

        if (!(sum && _plain!.SkipsColumns && !bytes.Contains((byte)'"') && TrySum()))
        {
            ParseRows();
        }
    }

    private bool TrySum()
    {
        // The box is a copy: what the sink changes of itself must come back.
        var boxed = (IMergingSink<TSink>)Sink;
        if (!_plain!.TryRead(Bytes, Length, OffsetS, _plainStepS, FirstLine, boxed, out PlainRows.Extent extent))
        {
            return false;
        }

        Sink = (TSink)boxed;
        Extent = extent;
        State = PieceState.Summed;
        return true;
    }

    private void ParseRows()
    {
        using CsvReader rows = SeparatedRows.Open(new MemoryStream(Bytes, 0, Length, writable: false), plan.Separator, Length);
        var time = new TimeReader(plan.Time, plan.Numbers);
        int timeIndex = plan.Time.Index;
        int clockIndex = plan.Time.ClockIndex;
        FieldPlan[] fields = [.. plan.Fields];
        Span<double> values = stackalloc double[TextRows.Slots];
        try
        {
            while (rows.Read())
            {
                if (rows.FieldCount != plan.FieldCount
                    || !time.TryRead(rows.GetSpan(timeIndex), clockIndex < 0 ? default : rows.GetSpan(clockIndex), out double rawS))
                {
                    return;
                }

                values.Fill(double.NaN);
                foreach (FieldPlan field in fields)
                {
                    if (!NumberField.TryRead(rows.GetSpan(field.Index), plan.Numbers, out double number))
                    {
                        return;
                    }

                    values[field.Quantity - TextRows.FirstSlot] = field.Coherent(number);
                }

                if (Count == Rows.Length)
                {
                    Sample[] larger = new Sample[Math.Max(1 << 14, 2 * Rows.Length)];
                    Rows.CopyTo(larger, 0);
                    Rows = larger;
                }

                Rows[Count++] = TextRows.Make(rawS, values, 0);
            }
        }
        catch (CsvFormatException)
        {
            // The ordinary path meets the same line and says where it is.
            return;
        }

        State = PieceState.Parsed;
    }

    // After the last line feed; where a piece has none, after the last carriage return that is not its last byte.
    private static int LineEnd(ReadOnlySpan<byte> bytes)
    {
        int feed = bytes.LastIndexOf((byte)'\n');
        return feed >= 0 ? feed + 1 : bytes[..^1].LastIndexOf((byte)'\r') + 1;
    }
}
