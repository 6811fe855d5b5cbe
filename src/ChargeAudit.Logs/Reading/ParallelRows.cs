using System.Text;
using ChargeAudit.Logs.Cleaning;
using ChargeAudit.Logs.Dialects;
using ChargeAudit.Logs.Sources;
using ChargeAudit.Logs.Time;
using CsvHelper;

namespace ChargeAudit.Logs.Reading;

/// <summary>
/// Reads a large plain log on several cores: pieces cut at line ends are parsed side by side and handed on in their order. A piece that holds anything
/// but plain rows is read again by the ordinary path, so that samples, faults and lines are the same to the last bit.
/// </summary>
internal static class ParallelRows
{
    // Large enough to keep a core busy for a millisecond, small enough that the pieces under way take a few megabytes.
    public const int PieceBytes = 1 << 19;
    private const int PiecesUnderWay = 4;
    private const int LongestLineBytes = 1 << 22;

    /// <summary>Whether a log's rows can be parsed without knowing the rows before.</summary>
    public static bool Suits(LogSource source, TextPlan plan, LogOptions options) =>
        options.Parallel && Environment.ProcessorCount > 1 && !source.Packed && !source.Converts && !plan.BlankRuns && plan.Encoding == TextEncoding.Utf8
        && plan.Time.Zone is null && plan.Time.Form is not (TimeForm.ClockOfDay or TimeForm.FixedInterval);

    /// <summary>Reads all rows.</summary>
    public static void Read<TSink>(string path, Stream text, TextPlan plan, OddRows odd, ref SampleGate<TSink> gate, FaultTally tally, ref long line)
        where TSink : struct, ISampleSink
    {
        var underWay = new Queue<Task<Piece>>();
        var free = new Stack<Piece>();
        byte[] carry = [];
        bool ended = false;
        bool first = true;
        while (!ended || underWay.Count > 0)
        {
            while (!ended && underWay.Count < PiecesUnderWay)
            {
                Piece piece = free.Count > 0 ? free.Pop() : new Piece();
                carry = piece.Fill(text, carry, out ended, out bool tooLong);
                if (tooLong)
                {
                    while (underWay.TryDequeue(out Task<Piece>? before))
                    {
                        Take(before.GetAwaiter().GetResult(), plan, odd, ref gate, tally, ref line);
                    }

                    throw LogErrors.LineTooLong(path, line + 1, TextRows.LongestLineBytes);
                }

                // The first piece holds the header, which the ordinary path steps over.
                underWay.Enqueue(first ? Task.FromResult(piece.AsOdd()) : Task.Run(() => piece.Parse(plan)));
                first = false;
            }

            Piece done = underWay.Dequeue().GetAwaiter().GetResult();
            Take(done, plan, odd, ref gate, tally, ref line);
            free.Push(done);
        }
    }

    private static void Take<TSink>(Piece piece, TextPlan plan, OddRows odd, ref SampleGate<TSink> gate, FaultTally tally, ref long line)
        where TSink : struct, ISampleSink
    {
        if (!piece.Plain)
        {
            var check = new TextCheckStream(new MemoryStream(piece.Bytes, 0, piece.Length, writable: false));
            using CsvReader rows = TextRows.Open(check, plan.Separator);
            TextRows.ReadRows(rows, plan, odd, ref gate, check, tally, ref line);
            return;
        }

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

    private sealed class Piece
    {
        public byte[] Bytes { get; private set; } = new byte[PieceBytes];

        public int Length { get; private set; }

        /// <summary>Rows with their raw times, where all lines were plain rows.</summary>
        public Sample[] Rows { get; private set; } = [];

        public int Count { get; private set; }

        public bool Plain { get; private set; }

        /// <summary>Fills the piece up to a line end; returns what lies behind it.</summary>
        public byte[] Fill(Stream text, byte[] carry, out bool ended, out bool tooLong)
        {
            tooLong = false;
            int filled = carry.Length;
            if (filled > Bytes.Length)
            {
                Bytes = new byte[2 * filled];
            }

            carry.CopyTo(Bytes, 0);
            while (true)
            {
                int read = text.ReadAtLeast(Bytes.AsSpan(filled), Bytes.Length - filled, throwOnEndOfStream: false);
                filled += read;
                ended = filled < Bytes.Length;
                int cut = ended ? filled : LineEnd(Bytes.AsSpan(0, filled));
                if (cut > 0 || ended)
                {
                    Length = cut;
                    return Bytes[cut..filled];
                }

                if (filled >= LongestLineBytes)
                {
                    tooLong = true;
                    return [];
                }

                byte[] larger = new byte[2 * Bytes.Length];
                Bytes.CopyTo(larger, 0);
                Bytes = larger;
            }
        }

        public Piece AsOdd()
        {
            Plain = false;
            return this;
        }

        /// <summary>Parses all rows; stops at the first line that is no plain row.</summary>
        public Piece Parse(TextPlan plan)
        {
            Count = 0;
            Plain = false;
            ReadOnlySpan<byte> bytes = Bytes.AsSpan(0, Length);
            if (!Ascii.IsValid(bytes) || bytes.Contains((byte)0))
            {
                return this;
            }

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
                        return this;
                    }

                    values.Fill(double.NaN);
                    foreach (FieldPlan field in fields)
                    {
                        if (!NumberField.TryRead(rows.GetSpan(field.Index), plan.Numbers, out double number))
                        {
                            return this;
                        }

                        values[field.Quantity - TextRows.FirstSlot] = number * field.Factor;
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
                return this;
            }

            Plain = true;
            return this;
        }

        // Behind the last line feed; where a piece has none, behind the last carriage return that is not its last byte.
        private static int LineEnd(ReadOnlySpan<byte> bytes)
        {
            int feed = bytes.LastIndexOf((byte)'\n');
            return feed >= 0 ? feed + 1 : bytes[..^1].LastIndexOf((byte)'\r') + 1;
        }
    }
}
