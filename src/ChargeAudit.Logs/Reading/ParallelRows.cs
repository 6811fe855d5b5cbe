using System.Text;
using ChargeAudit.Logs.Cleaning;
using ChargeAudit.Logs.Dialects;
using ChargeAudit.Logs.Sources;
using ChargeAudit.Logs.Time;
using CsvHelper;

namespace ChargeAudit.Logs.Reading;

/// <summary>
/// Reads a plain log in pieces cut at line ends, on as many cores as there are. A piece of plain rows is parsed and, where the sink can be merged, summed where it is
/// parsed; its rows are handed on in their order otherwise. A piece that holds anything but plain rows is read again by the ordinary path, so that samples, faults
/// and lines are the same.
/// </summary>
internal static class ParallelRows
{
    // Large enough to keep a core busy for a millisecond, small enough that the pieces under way take a few megabytes.
    public const int PieceBytes = 1 << 18;
    private const int LongestLineBytes = 1 << 22;

    /// <summary>Whether a log's rows can be parsed without knowing the rows before.</summary>
    public static bool Suits(LogSource source, TextPlan plan, LogOptions options) =>
        options.Parallel && !source.Packed && !source.Converts && !plan.BlankRuns && plan.Encoding == TextEncoding.Utf8
        && plan.Time.Zone is null && plan.Time.Form is not (TimeForm.ClockOfDay or TimeForm.FixedInterval);

    /// <summary>Reads all rows.</summary>
    /// <param name="path">Name of the log, for messages.</param>
    /// <param name="text">Its bytes.</param>
    /// <param name="plan">How to read a row.</param>
    /// <param name="odd">Judges rows that are not plain.</param>
    /// <param name="gate">Takes the rows.</param>
    /// <param name="tally">Counts faults.</param>
    /// <param name="line">Lines read.</param>
    /// <param name="pieceBytes">Bytes of a piece; more where a line is longer.</param>
    public static void Read<TSink>(string path, Stream text, TextPlan plan, OddRows odd, ref SampleGate<TSink> gate, FaultTally tally, ref long line, int pieceBytes)
        where TSink : struct, ISampleSink
    {
        int mostUnderWay = 2 * Environment.ProcessorCount;
        var underWay = new Queue<Piece<TSink>>();
        var free = new Stack<Piece<TSink>>();
        PlainRows? plain = PlainRows.For(plan);
        byte[] carry = [];
        bool ended = false;
        bool first = true;
        long nextLine = 1;
        while (!ended || underWay.Count > 0)
        {
            while (!ended && underWay.Count < mostUnderWay)
            {
                Piece<TSink> piece = free.Count > 0 ? free.Pop() : new Piece<TSink>(plan, pieceBytes);
                carry = piece.Fill(text, carry, out ended, out bool tooLong);
                if (tooLong)
                {
                    while (underWay.TryDequeue(out Piece<TSink>? before))
                    {
                        before.Work.GetAwaiter().GetResult();
                        Take(before, plan, odd, ref gate, tally, ref line);
                    }

                    throw LogErrors.LineTooLong(path, line + 1, TextRows.LongestLineBytes);
                }

                piece.FirstLine = nextLine;
                nextLine += piece.Lines;
                if (first)
                {
                    // The first piece holds the header, which the ordinary path steps over; the ones behind it start from its time.
                    Take(piece, plan, odd, ref gate, tally, ref line);
                    nextLine = line + 1;
                    free.Push(piece);
                    first = false;
                    continue;
                }

                if (plain is not null && gate.IsPlain && MergingSink.TryFork(in gate.Sink, in piece.Sink, out TSink fork))
                {
                    piece.PrepareToSum(fork, gate.OffsetS, gate.PlainStepS);
                }

                piece.Begin();
                underWay.Enqueue(piece);
            }

            Help(underWay);
            if (underWay.TryDequeue(out Piece<TSink>? done))
            {
                done.Work.GetAwaiter().GetResult();
                long expected = done.FirstLine + done.Lines;
                Take(done, plan, odd, ref gate, tally, ref line);

                // Lines that end by a lone carriage return are counted by the ordinary path only.
                nextLine += line + 1 - expected;
                free.Push(done);
            }
        }
    }

    // While the oldest piece is parsed elsewhere, this thread parses those that nobody has begun.
    private static void Help<TSink>(Queue<Piece<TSink>> underWay)
        where TSink : struct, ISampleSink
    {
        if (!underWay.TryPeek(out Piece<TSink>? oldest))
        {
            return;
        }

        foreach (Piece<TSink> piece in underWay)
        {
            if (oldest.Work.IsCompleted)
            {
                return;
            }

            piece.ParseOnce();
        }
    }

    private static void Take<TSink>(Piece<TSink> piece, TextPlan plan, OddRows odd, ref SampleGate<TSink> gate, FaultTally tally, ref long line)
        where TSink : struct, ISampleSink
    {
        if (piece.State == PieceState.Summed && piece.FirstLine == line + 1 && piece.OffsetS == gate.OffsetS
            && gate.TryPass(piece.Extent.FirstRawS, piece.Extent.LastRawS, piece.Extent.Rows))
        {
            odd.RowFollows();
            line += piece.Extent.Rows;
            MergingSink.Join(ref gate.Sink, in piece.Sink);
        }
        else if (piece.State == PieceState.Parsed)
        {
            if (piece.Count > 0)
            {
                odd.RowFollows();
            }

            for (int i = 0; i < piece.Count; i++)
            {
                ref readonly Sample row = ref piece.Rows[i];
                line++;
                gate.Push(row.TimeS, row with { TimeS = row.TimeS + gate.OffsetS, Line = line });
            }
        }
        else
        {
            var check = new TextCheckStream(new MemoryStream(piece.Bytes, 0, piece.Length, writable: false));
            using CsvReader rows = TextRows.Open(check, plan.Separator);
            TextRows.ReadRows(rows, plan, odd, ref gate, check, tally, ref line);
        }

        piece.State = PieceState.Unread;
    }

    private enum PieceState
    {
        Unread,
        Summed,
        Parsed,
    }

    private sealed class Piece<TSink>(TextPlan plan, int pieceBytes)
        where TSink : struct, ISampleSink
    {
        private readonly PlainRows? plain = PlainRows.For(plan);
        private int begun;
        private TaskCompletionSource done = new();
        private bool toSum;
        private double plainStepS;

        /// <summary>What the piece's samples went to, where it was summed.</summary>
        public TSink Sink;

        /// <summary>The text, with room behind it that is never filled.</summary>
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
            toSum = true;
            Sink = fork;
            OffsetS = offsetS;
            plainStepS = stepS;
        }

        /// <summary>Fills the piece up to a line end; returns what lies behind it.</summary>
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

        /// <summary>Ends when the piece is parsed, by whichever thread.</summary>
        public Task Work => done.Task;

        /// <summary>Lets the piece be parsed by whichever thread is free first.</summary>
        public void Begin()
        {
            done = new TaskCompletionSource(TaskCreationOptions.RunContinuationsAsynchronously);
            Volatile.Write(ref begun, 0);
            ThreadPool.UnsafeQueueUserWorkItem(static piece => piece.ParseOnce(), this, preferLocal: false);
        }

        /// <summary>Parses the piece if nobody has begun to.</summary>
        public void ParseOnce()
        {
            if (Interlocked.Exchange(ref begun, 1) != 0)
            {
                return;
            }

            try
            {
                Parse();
                done.SetResult();
            }
#pragma warning disable CA1031 // It is thrown again where the piece is taken.
            catch (Exception e)
#pragma warning restore CA1031
            {
                done.SetException(e);
            }
        }

        // Sums all rows, or else parses them; leaves the piece unread at the first line that is no plain row.
        private void Parse()
        {
            Count = 0;
            ReadOnlySpan<byte> bytes = Bytes.AsSpan(0, Length);
            bool sum = toSum;
            toSum = false;
            if (sum && !plain!.SkipsColumns && TrySum())
            {
                return;
            }

            // Fields that nobody reads may hold anything.
            if (!Ascii.IsValid(bytes) || bytes.Contains((byte)0))
            {
                return;
            }

            if (!(sum && plain!.SkipsColumns && !bytes.Contains((byte)'"') && TrySum()))
            {
                ParseRows();
            }
        }

        private bool TrySum()
        {
            // The box is a copy: what the sink changes of itself must come back.
            var boxed = (IMergingSink<TSink>)Sink;
            if (!plain!.TryRead(Bytes, Length, OffsetS, plainStepS, FirstLine, boxed, out PlainRows.Extent extent))
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
            using CsvReader rows = TextRows.Open(new MemoryStream(Bytes, 0, Length, writable: false), plan.Separator);
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
                // The ordinary path meets the same line and says where it stands.
                return;
            }

            State = PieceState.Parsed;
        }

        // Behind the last line feed; where a piece has none, behind the last carriage return that is not its last byte.
        private static int LineEnd(ReadOnlySpan<byte> bytes)
        {
            int feed = bytes.LastIndexOf((byte)'\n');
            return feed >= 0 ? feed + 1 : bytes[..^1].LastIndexOf((byte)'\r') + 1;
        }
    }
}
