using System.IO.Compression;
using ChargeAudit.Logs;
using ChargeAudit.Measuring;
using ChargeAudit.Measuring.Damage;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Reports.Files;
using ChargeAudit.Reports.Json;
using CsCheck;

namespace ChargeAudit.Tests.Measuring.Summaries;

/// <summary>A log summarized in parts, in any order, gives what one reading of it gives, or is refused with the reason.</summary>
public sealed class LogPartsTests : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("chargeaudit-").FullName;

    private string Log => Path.Combine(_folder, "log.csv");

    private string Summaries => Path.Combine(_folder, "summaries");

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Fact]
    public void Parts_in_any_order_and_twice_give_the_bits_of_one_reading()
    {
        int joined = 0;
        Gen.Select(Gen.Int[0, int.MaxValue], Gen.Int[2, 9], Gen.Int[0, 4], Gen.Int[0, 3]).Sample(
            (seed, count, form, kind) =>
            {
                using var place = new Place(_folder);
                var dice = new Random(seed);
                File.WriteAllLines(place.Log, Rows(dice, form));
                var meter = new Meter { Name = "m", Options = new LogOptions { Samples = Kinds[kind], MaxBadRowShare = 0.2 } };
                string whole = Measured(place.Log, null, meter);
                int[] order = [.. Enumerable.Range(1, count), dice.Next(1, count + 1)];
                dice.Shuffle(order);
                foreach (int number in order)
                {
                    LogParts.Summarize(Request(place.Log, place.Folder(), meter), number, count, TestContext.Current.CancellationToken);
                }

                var read = LogReading.Of(Request(place.Log, null, meter));
                bool damaged = read.Summary.Rules.Marked.Count > 0 || SecondLook.IsNeeded(read.Outcomes[0].Faults);
                File.Delete(place.Log);
                if (damaged)
                {
                    var refused = Assert.Throws<InputException>(() => Measured(place.Log, place.Folder(), meter));
                    Assert.Contains("a second look at all of them", refused.Message, StringComparison.Ordinal);
                    return;
                }

                Assert.Equal(whole, Measured(place.Log, place.Folder(), meter));
                joined++;
            },
            iter: 80,
            seed: "0000QRe4fBt3",
            threads: 1);

        // A fifth of the logs have no odd row at all; most others can be joined, too. Only the first is seeded, so the number varies.
        Assert.True(joined >= 24, $"{joined} of 80 logs were joined");
    }

    // More rows than an envelope has cells, so that cells widen while the parts are read.
    [Theory]
    [InlineData(SampleKind.Instantaneous)]
    [InlineData(SampleKind.AverageEnding)]
    [InlineData(SampleKind.OnChange)]
    public void A_log_of_more_rows_than_cells_gives_the_same_bits(SampleKind kind)
    {
        var dice = new Random(11);
        double timeS = 0;
        double energyWh = 0;
        File.WriteAllLines(Log, Enumerable.Range(0, 150_000).Select(i =>
        {
            timeS += i % 9001 == 9000 ? 700 : 0.1 * dice.Next(6, 15);
            energyWh += 0.002;
            return InvariantText.Of($"{timeS:F1},{5 + (2 * dice.NextDouble()):F3},{energyWh:F2}");
        }).Prepend("time (s),P (W),E (Wh)"));
        var meter = new Meter { Name = "m", Options = new LogOptions { Samples = kind } };
        string whole = Measured(Log, null, meter);
        foreach (int number in (int[])[3, 1, 5, 2, 4])
        {
            LogParts.Summarize(Request(Log, Folder(), meter), number, 5, TestContext.Current.CancellationToken);
        }

        File.Delete(Log);
        Assert.Equal(whole, Measured(Log, Folder(), meter));
    }

    [Fact]
    public void A_part_that_is_missing_is_named_and_nothing_is_added_up_without_it()
    {
        Write(3000);
        string whole = Measured(Log, null, null);
        foreach (int number in (int[])[1, 2, 4])
        {
            LogParts.Summarize(Request(Log, Folder(), null), number, 4, TestContext.Current.CancellationToken);
        }

        var refused = Assert.Throws<InputException>(() => Folder().Join(Request(Log, Folder(), null)));
        Assert.Contains("of its 4 parts there is no summary of part 3;", refused.Message, StringComparison.Ordinal);

        // Where the log is at hand, it is read, and that is pointed out.
        var folder = Folder();
        Assert.Equal(whole, Measured(Log, folder, null));
        Assert.Contains("no summary of part 3", Assert.Single(folder.PassedOver), StringComparison.Ordinal);
        Directory.GetFiles(Summaries).Where(f => !f.Contains("part-", StringComparison.Ordinal)).ToList().ForEach(File.Delete);
        File.Delete(Log);
        Assert.Throws<InputException>(() => Measured(Log, Folder(), null));
    }

    [Fact]
    public void Each_part_has_its_own_hash_and_the_log_has_them_all_in_order()
    {
        Write(3000);
        var request = Request(Log, Folder(), null);
        for (int number = 1; number <= 3; number++)
        {
            LogParts.Summarize(request, number, 3, TestContext.Current.CancellationToken);
        }

        var file = Assert.Single(Folder().Join(request).From!.Files);
        byte[] bytes = File.ReadAllBytes(Log);
        Assert.Equal(bytes.Length, file.Ends[^1]);
        Assert.Equal(3, file.Ends.Count);
        long[] starts = [0, .. file.Ends];
        Assert.Equal(file.Sha256, string.Join(',', file.Ends.Select((end, i) => Convert.ToHexStringLower(
            System.Security.Cryptography.SHA256.HashData(bytes.AsSpan((int)starts[i], (int)(end - starts[i])))))));
        Assert.All(file.Ends.SkipLast(1), end => Assert.Equal((byte)'\n', bytes[end - 1]));
    }

    [Fact]
    public void A_part_that_is_there_is_not_read_again_unless_the_log_has_changed()
    {
        Write(3000);
        LogParts.Summarize(Request(Log, Folder(), null), 2, 3, TestContext.Current.CancellationToken);
        var again = Folder();
        LogParts.Summarize(Request(Log, again, null), 2, 3, TestContext.Current.CancellationToken);
        Assert.Equal((1, 0), (again.Used.Count, again.Added.Count));
        File.WriteAllText(Log, File.ReadAllText(Log).Replace("5.0", "6.0", StringComparison.Ordinal));
        var changed = Folder();
        LogParts.Summarize(Request(Log, changed, null), 2, 3, TestContext.Current.CancellationToken);
        Assert.Equal((0, 1), (changed.Used.Count, changed.Added.Count));
        Assert.Contains("has changed since", Assert.Single(changed.PassedOver), StringComparison.Ordinal);
    }

    // Both states look alike at the cut.
    [Fact]
    public void Parts_of_two_states_of_a_log_are_never_added_up()
    {
        Write(3000);
        LogParts.Summarize(Request(Log, Folder(), null), 1, 2, TestContext.Current.CancellationToken);
        string[] rows = File.ReadAllLines(Log);
        rows[2900] = rows[2900].Replace("5.0", "6.0", StringComparison.Ordinal);
        File.WriteAllLines(Log, rows);
        File.SetLastWriteTimeUtc(Log, DateTime.UtcNow.AddMinutes(5));
        LogParts.Summarize(Request(Log, Folder(), null), 2, 2, TestContext.Current.CancellationToken);

        // With the log at hand the hashes of both parts are those of its bytes.
        Assert.NotNull(Folder().Join(Request(Log, Folder(), null)));
        File.Delete(Log);
        Directory.GetFiles(Summaries).Where(f => !f.Contains("part-", StringComparison.Ordinal)).ToList().ForEach(File.Delete);
        var refused = Assert.Throws<InputException>(() => Folder().Join(Request(Log, Folder(), null)));
        Assert.Contains("other length or age", refused.Message, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("clock", "carry no date")]
    [InlineData("stamps", "share one time stamp")]
    [InlineData("step", "its clock was set in part 2")]
    [InlineData("short", "cannot be cut into 4 parts")]
    [InlineData("blanks", "runs of blanks")]
    [InlineData("packed", "it is packed")]
    [InlineData("zone", "when summer ends")]
    [InlineData("stretch", "only a stretch")]
    public void What_cannot_be_cut_is_refused_in_parts_with_the_reason(string form, string why)
    {
        var start = new DateTime(2031, 10, 26, 1, 0, 0, DateTimeKind.Utc);
        File.WriteAllLines(Log, form switch
        {
            "clock" => Enumerable.Range(0, 3000).Select(i => InvariantText.Of($"{start.AddSeconds(i):HH:mm:ss},5.{i % 10}"))
                .Prepend("time,P (W)"),
            "stamps" => Enumerable.Range(0, 3000).Select(i => InvariantText.Of($"{i / 4},5.{i % 10}")).Prepend("time (s),P (W)"),
            "step" => Enumerable.Range(0, 3000).Select(i => InvariantText.Of($"{(i < 1200 ? i : i - 300)},5.{i % 10}"))
                .Prepend("time (s),P (W)"),
            "short" => Enumerable.Range(0, 120).Select(i => InvariantText.Of($"{i},5.{i % 10}")).Prepend("time (s),P (W)"),
            "blanks" => Enumerable.Range(0, 3000).Select(i => InvariantText.Of($"   {i}   5.{i % 10}")).Prepend(" time   P(W)"),
            "zone" => Enumerable.Range(0, 3000).Select(i => InvariantText.Of($"{start.AddSeconds(i):yyyy-MM-dd HH:mm:ss},5.{i % 10}"))
                .Prepend("time,P (W)"),
            _ => Enumerable.Range(0, 3000).Select(i => InvariantText.Of($"{i},5.{i % 10}")).Prepend("time (s),P (W)"),
        });
        string path = Log;
        if (form == "packed")
        {
            path = Log + ".gz";
            using var packed = new GZipStream(File.Create(path), CompressionLevel.Fastest);
            packed.Write(File.ReadAllBytes(Log));
        }

        var meter = new Meter { Name = "m", Options = new LogOptions { TimeZone = form == "zone" ? "Europe/Berlin" : null } };
        var request = Request(path, Folder(), meter) with { From = form == "stretch" ? new LogTime(null, 10, false) : null };
        var refused = Assert.Throws<InputException>(() =>
        {
            for (int number = 1; number <= 4; number++)
            {
                LogParts.Summarize(request, number, 4, TestContext.Current.CancellationToken);
            }

            Folder().Join(request);
        });
        Assert.Contains(why, refused.Message, StringComparison.Ordinal);
        Assert.DoesNotContain('\n', refused.Message);
    }

    [Fact]
    public void A_refusal_within_a_part_names_the_line_of_the_log()
    {
        Write(3000);
        string[] rows = File.ReadAllLines(Log);
        rows[2000] = "2000,x";
        File.WriteAllLines(Log, rows);
        var refused = Assert.Throws<InputException>(() =>
            LogParts.Summarize(Request(Log, Folder(), null) with { Strict = true }, 3, 4, TestContext.Current.CancellationToken));
        Assert.Contains("line 2001", refused.Message, StringComparison.Ordinal);
    }

    private static readonly SampleKind?[] Kinds =
        [null, SampleKind.AverageEnding, SampleKind.AverageStarting, SampleKind.OnChange];

    private void Write(int rows) =>
        File.WriteAllLines(Log, Enumerable.Range(0, rows).Select(i => InvariantText.Of($"{i},{5 + (i % 3)}.0")).Prepend("time (s),P (W)"));

    // Rows with gaps, odd rows, repeated times and a counter beside the power; enough plain ones between them to cut.
    private static IEnumerable<string> Rows(Random dice, int form)
    {
        yield return form == 1 ? "time,P (W)" : form == 2 ? "t (s);U (V);I (A)" : "time (s),P (W),E (Wh)";
        var start = new DateTime(2031, 3, 4, 23, 30, 0, DateTimeKind.Utc);
        double timeS = 0, joules = 0;
        for (int i = 0; i < 4000; i++)
        {
            bool odd = i > 100 && form != 4 && dice.Next(300) == 0;
            timeS += odd && dice.Next(2) == 0 ? dice.Next(20, 400) : 1 + (dice.Next(5) == 0 ? 0.25 : 0);
            double watts = 7.5 - (i / 900) + (0.3 * dice.NextDouble());
            joules += watts;
            string power = InvariantText.Of($"{watts:F3}");
            string row = form switch
            {
                1 => InvariantText.Of($"{start.AddSeconds(timeS):yyyy-MM-ddTHH:mm:ss.ffZ},{power}"),
                2 => InvariantText.Of($"{timeS:F2};{5 + (0.1 * dice.NextDouble()):F2};{watts / 5:F3}").Replace('.', ','),
                _ => InvariantText.Of($"{timeS:F2},{power},{joules / 3600:F3}"),
            };
            if (odd)
            {
                switch (form == 3 ? 1 : dice.Next(2, 5))
                {
                    case 4:
                        yield return "# a remark";
                        break;
                    case 1:
                        yield return row;
                        break;
                    case 2:
                        yield return InvariantText.Of($"{row[..row.LastIndexOfAny([',', ';'])]}{(form == 2 ? ";" : ",")}x");
                        break;
                    default:
                        yield return "";
                        break;
                }
            }

            yield return row;
        }

        yield return "Total";
    }

    private static MeasureRequest Request(string log, SummaryFolder? folder, Meter? meter) => new()
    {
        Paths = [log],
        Names = ["log.csv"],
        Meter = meter,
        Summaries = folder,
        Point = MeasuringPoint.Usb,
    };

    // All that is measured but the hash.
    private static string Measured(string log, SummaryFolder? folder, Meter? meter)
    {
        var result = LogMeasurer.Measure(Request(log, folder, meter)).Result;
        return ResultsJson.Measure([result with { From = null, Sha256 = [""] }]);
    }

    private SummaryFolder Folder() => FolderAt(Summaries);

    private static SummaryFolder FolderAt(string folder) => new(folder, "1", (path, bytes) => AtomicFile.Write(path, bytes));

    private sealed class Place : IDisposable
    {
        private readonly string _place;

        public Place(string folder) => _place = Directory.CreateDirectory(Path.Combine(folder, Path.GetRandomFileName())).FullName;

        public string Log => Path.Combine(_place, "log.csv");

        public SummaryFolder Folder() => FolderAt(Path.Combine(_place, "summaries"));

        public void Dispose() => Directory.Delete(_place, recursive: true);
    }
}
