using System.Text;
using ChargeAudit.Logs;
using ChargeAudit.Logs.Reading;
using ChargeAudit.Measuring.Integration;
using ChargeAudit.Metrology;
using CsCheck;

namespace ChargeAudit.Tests.Measuring.Integration;

/// <summary>A log cut into pieces anywhere gives the samples, faults and summary of the uncut one.</summary>
public sealed class PiecesOfALogTests
{
    private const string Odd =
        """
        # made by hand
        t (s),U (V),I (A)
        0.0,5.01,1.00
        0.5,5.02,1.01
        1.0,5.00,1.02
        1.5,5.03
        2.0,4.99,1.03
        t (s),U (V),I (A)
        2.5,"5.01",1.04
        9.0,5.01,1.05
        9.5,x,1.06
        9.5,5.01,1.07
        9.2,5.01,1.08
        10.0,5.02,1.09
        10.5,5.02,1.09
        3.0,5.00,1.10
        3.5,5.01,1.11
        4.0,5.01,-1.12
        4.5,5.02,1.13
        Total,5,6

        """;

    private static readonly double[] DisorderByDegree = [0, 0, 0.02, 0.2];

    private static string Lines(params IEnumerable<string> lines) => string.Concat(lines.Select(l => l + "\n"));

    [Theory]
    [InlineData("\n")]
    [InlineData("\r\n")]
    [InlineData("\r")]
    public void A_cut_at_every_place_changes_nothing(string lineEnd)
    {
        // Pieces of each length put a cut behind every line, and a line that is longer than its piece among them.
        byte[] log = Encoding.UTF8.GetBytes(Odd.ReplaceLineEndings(lineEnd));
        var whole = Read(log, new LogOptions { Parallel = false, MaxBadRowShare = 1 });
        for (int bytes = 1; bytes <= log.Length + 1; bytes++)
        {
            Same(whole, Read(log, new LogOptions { PieceBytes = bytes, MaxBadRowShare = 1 }));
        }
    }

    [Fact]
    public void Logs_with_any_disorder_are_summed_alike_in_pieces() =>
        Gen.Select(Gen.Int[0, int.MaxValue], Gen.Int[30, 400], Gen.Int[0, 3]).Sample(
            (seed, pieceBytes, degree) =>
            {
                byte[] log = Encoding.UTF8.GetBytes(Lines(Rows(new Random(seed), DisorderByDegree[degree])));
                Same(Read(log, new LogOptions { Parallel = false, MaxBadRowShare = 1 }), Read(log, new LogOptions
                {
                    PieceBytes = pieceBytes,
                    MaxBadRowShare = 1,
                }));
            },
            iter: 300,
            seed: "0000QRe4fBt3");

    // What a column holds decides how it is read: as many decimals in all rows or not, more digits than fit a machine word, a sign, no
    // digit before or behind the point.
    [Fact]
    public void Numbers_written_in_any_way_are_summed_alike_in_pieces() =>
        Gen.Select(Gen.Int[0, int.MaxValue], Gen.Int[100, 12_000], Gen.Int[0, 5], Gen.Int[0, 2]).Sample(
            (seed, pieceBytes, form, timeForm) =>
            {
                string lineEnd = seed % 3 == 0 ? "\r\n" : "\n";
                string log = Lines(NumbersOf(new Random(seed), form, timeForm)).Replace("\n", lineEnd, StringComparison.Ordinal);
                byte[] bytes = Encoding.UTF8.GetBytes(seed % 5 == 0 ? log.TrimEnd() : log);
                Same(Read(bytes, new LogOptions { Parallel = false, MaxBadRowShare = 1 }), Read(bytes, new LogOptions
                {
                    PieceBytes = pieceBytes,
                    MaxBadRowShare = 1,
                }));
            },
            iter: 200,
            seed: "0000QRe4fBt3");

    private static IEnumerable<string> NumbersOf(Random random, int form, int timeForm)
    {
        yield return "time,note,voltage (V),current (A)";
        var start = new DateTime(2031, 3, 4, 23, 59, 0, DateTimeKind.Utc);
        for (int i = 0; i < 400; i++)
        {
            string time = timeForm switch
            {
                0 => InvariantText.Of($"{i * 0.25:F2}"),
                1 => InvariantText.Of($"{1_900_000_000_000 + (i * 250L)}"),
                _ => start.AddMilliseconds(i * 250).ToString("yyyy-MM-ddTHH:mm:ss.fffZ", System.Globalization.CultureInfo.InvariantCulture),
            };
            double volts = 5 + (0.1 * random.NextDouble());
            double amperes = random.NextDouble() * Math.Pow(10, random.Next(-3, 2));
            string current = form switch
            {
                0 => InvariantText.Of($"{amperes:F6}"),
                1 => InvariantText.Of($"{amperes:0.######}"),
                2 => InvariantText.Of($"{(amperes < 0.01 ? -amperes : amperes):F15}"),
                3 => InvariantText.Of($"{amperes:F3}").TrimStart('0'),
                4 => InvariantText.Of($"{(int)amperes}."),
                _ => InvariantText.Of($"{amperes:F19}"),
            };
            yield return InvariantText.Of($"{time},{(random.Next(4) == 0 ? "on.1" : "off")},{volts:F3},{current}");
        }
    }

    private static IEnumerable<string> Rows(Random random, double disorder)
    {
        yield return "time_s,voltage_V,current_A";
        double timeS = 0;
        for (int i = 0; i < 200; i++)
        {
            double amperes = 1 + (0.5 * random.NextDouble());
            if (i < 20 || random.NextDouble() >= disorder)
            {
                timeS += 0.25;
                yield return InvariantText.Of($"{timeS:F2},{5 + (0.1 * random.NextDouble()):F3},{amperes:F4}");
                continue;
            }

            switch (random.Next(7))
            {
                case 0:
                    timeS += 30;
                    break;
                case 1:
                    timeS -= 3;
                    break;
                case 2:
                    yield return InvariantText.Of($"{timeS:F2},5.0,{amperes:F4}");
                    break;
                case 3:
                    yield return InvariantText.Of($"{timeS + 0.25:F2},oops,1");
                    break;
                case 4:
                    yield return InvariantText.Of($"{timeS + 0.25:F2},5.0");
                    break;
                case 5:
                    yield return InvariantText.Of($"{timeS - 2:F2},5.0,1.0");
                    break;
                default:
                    yield return "# a remark";
                    break;
            }
        }
    }

    private sealed record Everything(IReadOnlyList<Sample> Samples, LogSummary Summary, ReadOutcome Outcome);

    private static Everything Read(byte[] log, LogOptions options)
    {
        string path = Path.GetTempFileName();
        try
        {
            File.WriteAllBytes(path, log);
            var layout = LogReader.Inspect(path, options);
            var samples = new Listing([]);
            LogReader.ReadInto(path, layout, options, ref samples, null, TestContext.Current.CancellationToken);
            var rules = SummaryRules.For(layout, PowerSource.DirectCurrentProduct, new LogOptions());
            var sink = new IntegratingSink(new LogSummary.Builder(rules));
            var outcome = LogReader.ReadInto(path, layout, options, ref sink, null, TestContext.Current.CancellationToken);
            return new Everything(samples.Samples, sink.Summary.Finish(), outcome);
        }
        finally
        {
            File.Delete(path);
        }
    }

    private readonly record struct Listing(List<Sample> Samples) : ISampleSink
    {
        public void Add(in Sample sample) => Samples.Add(sample);
    }

    private static void Same(Everything a, Everything b)
    {
        Assert.Equal(a.Samples, b.Samples);
        Assert.Equal(a.Outcome.Faults, b.Outcome.Faults);
        Assert.Equal(a.Outcome.Notes, b.Outcome.Notes);
        Assert.Equal((a.Outcome.Rows, a.Outcome.RowsSkipped, a.Outcome.Sha256), (b.Outcome.Rows, b.Outcome.RowsSkipped, b.Outcome.Sha256));
        Assert.Equal(Sums(a.Summary), Sums(b.Summary));
        Assert.Equal(a.Summary.Gaps.Longest, b.Summary.Gaps.Longest);
        Assert.Equal(Cells(a.Summary.Envelope), Cells(b.Summary.Envelope));
    }

    // To the last bit: the sums keep their compensation.
    private static double[] Sums(LogSummary s) =>
    [
        s.Samples, s.WithoutPower, s.EnergyJ.Value, s.VoltSeconds.Value, s.ChargeC.Value, s.CoveredS.Value, s.ReversedJ.Value,
        s.PeakPowerW, s.StartS, s.EndS, s.FirstLine, s.DwellingShare, s.Gaps.Count, s.Gaps.TotalS,
    ];

    private static List<(double, long, double, double, double, double)> Cells(PowerEnvelope envelope)
    {
        var cells = new List<(double, long, double, double, double, double)>();
        for (int i = 0; i < envelope.Count; i++)
        {
            var cell = envelope[i];
            cells.Add((envelope.StartS(i), cell.Readings, cell.MinPowerW, cell.MaxPowerW, cell.EnergyJ.Value, cell.CoveredS.Value));
        }

        return cells;
    }
}
