using ChargeAudit.Logs.Cleaning;
using ChargeAudit.Logs.Dialects;
using ChargeAudit.Logs.Layout;
using ChargeAudit.Logs.Sources;
using ChargeAudit.Logs.Streams;
using ChargeAudit.Logs.Time;
using CsvHelper;

namespace ChargeAudit.Logs.Reading;

/// <summary>
/// Reads a plain log in pieces cut at line ends, on as many cores as there are. A piece of plain rows is parsed and, where the sink can be
/// merged, summed where it is parsed; its rows are handed on in their order otherwise. A piece that holds anything but plain rows is read
/// again by the ordinary path, so that samples, faults and lines are the same.
/// </summary>
internal static class ParallelRows
{
    /// <summary>Whether a log's rows can be parsed without knowing the rows before.</summary>
    public static bool Suits(LogSource source, TextPlan plan, LogOptions options) =>
        options.Parallel && options.RepeatedLines.Count == 0 && !source.Packed && !source.Converts && !plan.BlankRuns
            && plan.Encoding == TextEncoding.Utf8
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
    public static void Read<TSink>(string path, Stream text, TextPlan plan, OddRows odd, ref SampleGate<TSink> gate, FaultCounts tally,
        ref long line, int pieceBytes)
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
        using var workers = new PieceWorkers<TSink>();
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
                        before.Wait();
                        Take(before, plan, odd, ref gate, tally, ref line);
                    }

                    throw LogErrors.LineTooLong(path, line + 1, SeparatedRows.LongestLineBytes);
                }

                piece.FirstLine = nextLine;
                nextLine += piece.Lines;
                if (first)
                {
                    // The first piece holds the header, which the ordinary path steps over; the ones after it start from its time.
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
                workers.Offer(piece);
                underWay.Enqueue(piece);
            }

            Help(underWay);
            if (underWay.TryDequeue(out Piece<TSink>? done))
            {
                done.Wait();
                long expected = done.FirstLine + done.Lines;
                Take(done, plan, odd, ref gate, tally, ref line);

                // Lines that end by a lone carriage return are counted by the ordinary path only.
                nextLine += line + 1 - expected;
                free.Push(done);
            }
        }
    }

    // While the oldest piece is parsed elsewhere, this thread parses those that no other has begun.
    private static void Help<TSink>(Queue<Piece<TSink>> underWay)
        where TSink : struct, ISampleSink
    {
        if (!underWay.TryPeek(out Piece<TSink>? oldest))
        {
            return;
        }

        foreach (Piece<TSink> piece in underWay)
        {
            if (oldest.IsDone)
            {
                return;
            }

            piece.ParseOnce();
        }
    }

    private static void Take<TSink>(Piece<TSink> piece, TextPlan plan, OddRows odd, ref SampleGate<TSink> gate, FaultCounts tally,
        ref long line)
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
            using CsvReader rows = SeparatedRows.Open(check, plan.Separator, piece.Length);
            TextRows.ReadRows(rows, plan, odd, ref gate, check, tally, ref line);
        }

        piece.State = PieceState.Unread;
    }
}
