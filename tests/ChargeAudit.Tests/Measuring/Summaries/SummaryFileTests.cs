using ChargeAudit.LogMaker;
using ChargeAudit.Measuring;
using ChargeAudit.Measuring.Integration;
using ChargeAudit.Measuring.Summaries;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Reports.Json;
using ChargeAudit.Tests.Reach;
using static System.Globalization.CultureInfo;

namespace ChargeAudit.Tests.Measuring.Summaries;

/// <summary>A summary's file gives back what it was made of, bit for bit, or is refused.</summary>
public sealed class SummaryFileTests : IDisposable
{
    private static readonly SummaryAbout NoFiles = new() { ProgramVersion = "1", Files = [], Said = new Dictionary<string, string>() };
    private readonly string _folder = Directory.CreateTempSubdirectory("chargeaudit-").FullName;

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Fact]
    public void Every_log_that_can_be_read_comes_back_from_its_summary_with_the_same_bits()
    {
        string corpus = Path.Combine(AppContext.BaseDirectory, "Logs", "Corpus");
        string samples = Path.Combine(Documents.GeneratedDocuments.RepositoryAbove(AppContext.BaseDirectory), "sample-logs");
        int read = 0, counters = 0, inRows = 0;
        foreach (string path in Directory.GetFiles(corpus).Concat(Directory.GetFiles(samples, "*.csv")).Order(StringComparer.Ordinal))
        {
            if (Path.GetFileName(path) is "expected.tsv" or ".gitattributes"
                || TryRead(new MeasureRequest { Paths = [path] }) is not { } log)
            {
                continue;
            }

            read++;
            ComesBack(path, log, null);
            inRows += SummaryFile.PartsOf(log, AboutOf(log, null)).Table is RowTable ? 1 : 0;
            if (log.Own.Has(LogQuantity.Energy) && log.Source != PowerSource.EnergyCounter
                && TryRead(new MeasureRequest { Paths = [path], Source = PowerSource.EnergyCounter }) is { } counted)
            {
                counters++;
                ComesBack(path, counted, PowerSource.EnergyCounter);
            }
        }

        Assert.True(read >= 110, $"{read} logs could be read");
        Assert.True(counters >= 2, $"{counters} logs hold a counter beside their power");
        Assert.Equal(read, inRows);
    }

    [Theory]
    [InlineData(SampleDisorder.None)]
    [InlineData(SampleDisorder.Gaps)]
    [InlineData(SampleDisorder.Falls)]
    public void Counters_gaps_and_values_on_change_come_back(SampleDisorder disorder)
    {
        string path = Path.Combine(_folder, "log.csv");
        File.WriteAllLines(path, ["time (s),P (W),E (Wh)", .. Rows(disorder)]);
        ComesBack(path, TryRead(new MeasureRequest { Paths = [path] })!, null);
        ComesBack(path, TryRead(new MeasureRequest { Paths = [path], Source = PowerSource.EnergyCounter })!, PowerSource.EnergyCounter);
        foreach (var kind in Enum.GetValues<ChargeAudit.Logs.SampleKind>())
        {
            var meter = new Meter { Name = "m", Options = new ChargeAudit.Logs.LogOptions { Samples = kind } };
            var log = TryRead(new MeasureRequest { Paths = [path], Meter = meter })!;
            Assert.Null(SameState.Difference(log.Summary, Again(path, log, null).Summary));
            Assert.Null(SameState.Difference(log.Summary, Again(path, log with { Rows = null }, null).Summary));
        }
    }

    [Fact]
    public void A_summary_cut_off_anywhere_or_with_a_flipped_bit_is_refused_or_says_the_same()
    {
        byte[] whole = Whole(out var log);
        string path = Path.Combine(_folder, "damaged.summary.parquet");
        byte[] ofCells = SummaryFile.Of(log with { Rows = null }, AboutOf(log, null));
        var dice = new Random(7);
        for (int i = 0; i < 300; i++)
        {
            byte[] sound = i % 4 < 2 ? whole : ofCells;
            byte[] damaged = i % 2 == 0 ? sound[..dice.Next(sound.Length)] : [.. sound];
            if (i % 2 == 1)
            {
                damaged[dice.Next(damaged.Length)] ^= (byte)(1 << dice.Next(8));
            }

            RefusedOrSame(path, damaged, log);
        }
    }

    [Fact]
    public void Whatever_a_summary_claims_it_is_refused_with_a_sentence_or_says_the_same()
    {
        byte[] whole = Whole(out var log);
        string path = Path.Combine(_folder, "hostile.summary.parquet");
        byte[] ofCells = SummaryFile.Of(log with { Rows = null }, AboutOf(log, null));
        for (int i = 0; i < 600; i++)
        {
            var dice = new Dice((ulong)(100 + i));
            byte[] sound = i % 4 < 2 ? whole : ofCells;
            RefusedOrSame(path, i % 2 == 0 ? ParquetMutator.Change(sound, dice) : Mutator.Change(sound, sound, dice), log);
        }
    }

    // The digest is right: whoever changed the file computed it anew.
    [Theory]
    [InlineData("\"exponent\":0", "\"exponent\":1000")]
    [InlineData("\"count\":60", "\"count\":2000000000")]
    [InlineData("\"count\":60", "\"count\":-1")]
    [InlineData("\"samples\":60", "\"samples\":-60")]
    [InlineData("\"medianIntervalS\":1", "\"medianIntervalS\":0")]
    [InlineData("\"finished\":true", "\"finished\":false")]
    [InlineData("\"rules\":", "\"rules\":null,\"other\":")]
    [InlineData("\"source\":\"power-column\"", "\"source\":\"guessed\"")]
    public void What_no_reading_leaves_behind_is_refused_though_its_digest_is_right(string sound, string hostile)
    {
        _ = Whole(out var log);
        foreach (var form in (ReadLog[])[log, log with { Rows = null }])
        {
            string path = Path.Combine(_folder, "x.summary.parquet");
            var (told, document, table) = SummaryFile.PartsOf(form, AboutOf(form, null));
            Assert.Contains(sound, document, StringComparison.Ordinal);
            File.WriteAllBytes(path, SummaryFile.Of(told, document.Replace(sound, hostile, StringComparison.Ordinal), table));
            Refused(path, "no whole summary");
        }
    }

    [Theory]
    [InlineData("\"samples\":60", "\"samples\":61", "do not give what it says")]
    [InlineData("\"time\",\"digits\":0", "\"time\",\"digits\":10", "scale of its column time_s")]
    [InlineData("\"time\",\"digits\":0", "\"time\",\"digits\":3", "columns are not those of a summary")]
    [InlineData("\"power\",\"digits\":0", "\"power\",\"digits\":10", "scale of its column power_w")]
    [InlineData("\"power\",\"digits\":0", "\"power\",\"digits\":-1", "scale of its column power_w")]
    [InlineData("\"power\",\"digits\":0", "\"power\",\"digits\":2", "columns are not those of a summary")]
    [InlineData("\"power\",\"digits\":0,\"factor\":1", "\"power\",\"digits\":0,\"factor\":0", "scale of its column power_w")]
    [InlineData("\"power\",\"digits\":0,\"factor\":1", "\"power\",\"digits\":0,\"factor\":\"NaN\"", "scale of its column power_w")]
    [InlineData("\"rows\":[{\"quantity\":\"time\"", "\"rows\":[{\"quantity\":\"power\"", "columns are not those")]
    [InlineData("\"source\":\"power-column\"", "\"source\":\"energy-counter\"", "columns are not those of its source")]
    public void Rows_that_cannot_be_are_refused_though_their_digest_is_right(string sound, string hostile, string why)
    {
        _ = Whole(out var log);
        string path = Path.Combine(_folder, "x.summary.parquet");
        var (told, document, table) = SummaryFile.PartsOf(log, AboutOf(log, null));
        Assert.Contains(sound, document, StringComparison.Ordinal);
        File.WriteAllBytes(path, SummaryFile.Of(told, document.Replace(sound, hostile, StringComparison.Ordinal), table));
        Refused(path, why);
    }

    [Theory]
    [InlineData(30, 28, "do not rise")]
    [InlineData(59, 1e15, "do not rise")]
    [InlineData(0, -1e15, "do not rise")]
    [InlineData(59, 1e12, "do not give what it says")]
    public void Times_that_no_log_holds_are_refused_though_their_digest_is_right(int row, double timeS, string why)
    {
        _ = Whole(out var log);
        string path = Path.Combine(_folder, "x.summary.parquet");
        var (told, document, table) = SummaryFile.PartsOf(log, AboutOf(log, null));
        var values = (double[][])SameState.Fields(typeof(RowTable)).Single(f => f.Name == "_values").GetValue(table)!;
        values[0][row] = timeS;
        File.WriteAllBytes(path, SummaryFile.Of(told, document, table));
        Refused(path, why);
    }

    // Times come in whole seconds or thousandths of them and so on, however they are written and whatever a stamp begins with.
    [Theory]
    [InlineData("{0}", 1, "time_s")]
    [InlineData("{0}", 0.25, "time_ms")]
    [InlineData("{0}", 0.000125, "time_us")]
    [InlineData("2026-03-01T12:00:{0:00.000}Z", 0.125, "time_ms")]
    [InlineData("2026-03-01T12:34:{0:00.000}+02:00", 0.7, "time_ms")]
    [InlineData("2026-03-01T12:00:{0:00.0000000}Z", 0.0000125, "time_ns")]
    public void Times_stand_as_whole_numbers_of_their_unit(string form, double everyS, string name)
    {
        string path = Path.Combine(_folder, "log.csv");
        int first = form[0] == '{' ? 0 : 1;
        File.WriteAllLines(path, ["time,P (W)", .. Enumerable.Range(0, 59)
            .Select(i => string.Format(InvariantCulture, form, Math.Round((i + first) * everyS, 9)) + ",5.3")]);
        var log = TryRead(new MeasureRequest { Paths = [path] })!;
        var table = Assert.IsType<RowTable>(SummaryFile.PartsOf(log, AboutOf(log, null)).Table);
        Assert.Equal(name, table.Columns[0].Name);
        Assert.Null(SameState.Difference(log.Summary, Again(path, log, null).Summary));
    }

    // A number that a log prints is a decimal, and what its unit makes of it must come back too.
    [Theory]
    [InlineData("P (W),E (Wh)", "power_w counter_wh")]
    [InlineData("U (V),I (mA)", "voltage_v current_a")]
    [InlineData("P (mW),E (kWh)", "power_w counter_wh")]
    [InlineData("P (W),E (J)", "power_w counter_j")]
    public void Rows_stand_in_their_units_as_decimals(string header, string names)
    {
        string path = Path.Combine(_folder, "log.csv");
        File.WriteAllLines(path, [$"time (s),{header}", .. Enumerable.Range(0, 300)
            .Select(i => InvariantText.Of($"{i},{5 + (i % 7 * 0.003):F3},{0.2 + (i * 0.0007):F4}"))]);
        var log = TryRead(new MeasureRequest { Paths = [path], Point = ChargeAudit.Logs.MeasuringPoint.Usb })!;
        var table = Assert.IsType<RowTable>(SummaryFile.PartsOf(log, AboutOf(log, null)).Table);
        Assert.Equal(names, string.Join(' ', table.Columns.Skip(1).Select(c => c.Name)));
        Assert.All(table.Columns.Skip(1), c => Assert.NotNull(c.Digits));
        Assert.Null(SameState.Difference(log.Summary, Again(path, log, null).Summary));
    }

    [Fact]
    public void A_summary_of_another_schema_is_not_used()
    {
        _ = Whole(out var log);
        string path = Path.Combine(_folder, "x.summary.parquet");
        File.WriteAllBytes(path, SummaryFile.Of(log, AboutOf(log, null) with { Schema = 1 }));
        Refused(path, "schema 1, and schema 3 was expected");
    }

    [Fact]
    public void A_summary_is_no_log_to_whoever_wants_rows_and_stands_for_a_whole_log_alone()
    {
        byte[] whole = Whole(out _);
        string path = Path.Combine(_folder, "x.summary.parquet");
        File.WriteAllBytes(path, whole);
        var asLog = Assert.Throws<InputException>(() => ChargeAudit.Logs.Reading.LogFile.Open(path));
        Assert.Contains("is the summary of a log", asLog.Message, StringComparison.Ordinal);
        var two = Assert.Throws<InputException>(() => LogMeasurer.Measure(new MeasureRequest { Paths = [path, path] }, null,
            TestContext.Current.CancellationToken));
        Assert.Contains("name it alone", two.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_summary_made_with_other_settings_does_not_stand_for_the_log()
    {
        byte[] whole = Whole(out _);
        string path = Path.Combine(_folder, "x.summary.parquet");
        File.WriteAllBytes(path, whole);
        var refused = Assert.Throws<InputException>(() => LogMeasurer.Measure(new MeasureRequest
        {
            Paths = [path],
            Point = ChargeAudit.Logs.MeasuringPoint.Wall,
        }, null, TestContext.Current.CancellationToken));
        Assert.Contains("point was not stated then and is \"wall\" now", refused.Message, StringComparison.Ordinal);
        Assert.Contains("state the point wall", refused.Message, StringComparison.Ordinal);
        Assert.Equal((Remedy.Summarize, "wall"), (refused.Remedy, refused.RemedyValue));
    }

    // What was stated when the summary was made still holds.
    [Fact]
    public void A_summary_that_is_named_itself_stands_for_its_log_as_it_was_told_of()
    {
        string path = Path.Combine(_folder, "log.csv");
        File.WriteAllLines(path, ["time (s),P (W)", .. Rows(SampleDisorder.Gaps).Select(r => r[..r.LastIndexOf(',')])]);
        var told = new MeasureRequest
        {
            Paths = [path],
            Meter = new Meter
            {
                Name = "command-line",
                Options = new ChargeAudit.Logs.LogOptions
                {
                    Point = ChargeAudit.Logs.MeasuringPoint.Usb,
                    Gaps = ChargeAudit.Logs.GapPolicy.Exclude,
                },
            },
        };
        var read = TryRead(told)!;
        File.WriteAllBytes(Summarized(path), SummaryFile.Of(read, AboutOf(read, null, path) with { Said = LogSettings.Of(told) }));
        string expected = ResultsJson.Measure([LogMeasurer.Measure(told, null, TestContext.Current.CancellationToken).Result]);
        var bare = LogMeasurer.Measure(new MeasureRequest { Paths = [Summarized(path)] }, null, TestContext.Current.CancellationToken);
        Assert.Equal(expected, ResultsJson.Measure([bare.Result with { From = null }]));
    }

    public enum SampleDisorder
    {
        None,
        Gaps,
        Falls,
    }

    // A counter of hundredths that runs beside the power, with a gap, or with falls.
    private static IEnumerable<string> Rows(SampleDisorder disorder)
    {
        double joules = 0;
        for (int i = 0; i < 4000; i++)
        {
            double power = 7.5 + (i % 13 * 0.11) - (i / 800);
            joules += power;
            double shift = disorder == SampleDisorder.Falls && i > 2000 ? 2.5 : 0;
            if (disorder != SampleDisorder.Gaps || i is < 1000 or > 1400)
            {
                yield return InvariantText.Of($"{i},{power:F2},{Math.Max(0, (joules / 3600) - shift):F2}");
            }
        }
    }

    private byte[] Whole(out ReadLog log)
    {
        string path = Path.Combine(_folder, "log.csv");
        File.WriteAllLines(path, ["time (s),P (W)", .. Enumerable.Range(0, 60).Select(i => InvariantText.Of($"{i},{5 + (i % 7):F1}"))]);
        log = TryRead(new MeasureRequest { Paths = [path] })!;
        return SummaryFile.Of(log, AboutOf(log, null));
    }

    private static void RefusedOrSame(string path, byte[] bytes, ReadLog log)
    {
        File.WriteAllBytes(path, bytes);
        try
        {
            Assert.Null(SameState.Difference(log.Summary, SummaryFile.Read(path).Summary));
        }
        catch (InputException e)
        {
            Assert.DoesNotContain('\n', e.Message);
        }
    }

    private static void Refused(string path, string why)
    {
        var refused = Assert.Throws<InputException>(() => SummaryFile.Read(path));
        Assert.Contains(why, refused.Message, StringComparison.Ordinal);
        Assert.DoesNotContain('\n', refused.Message);
    }

    private void ComesBack(string path, ReadLog log, PowerSource? source)
    {
        string measured = Measured(path, source);
        foreach (var form in (ReadLog[])[log, log with { Rows = null }])
        {
            var again = Again(path, form, source);
            Assert.Null(SameState.Difference(form with { From = null, Rows = null }, again with { From = null }, Path.GetFileName(path)));
            Assert.Equal(measured, Measured(Summarized(path), source));
        }
    }

    private ReadLog Again(string path, ReadLog log, PowerSource? source)
    {
        File.WriteAllBytes(Summarized(path), SummaryFile.Of(log, AboutOf(log, source, path)));
        return SummaryFile.Read(Summarized(path));
    }

    private string Summarized(string path) => Path.Combine(_folder, $"{Path.GetFileName(path)}{SummaryFile.Ending}");

    private static string Measured(string path, PowerSource? source)
    {
        try
        {
            var log = LogMeasurer.Measure(new MeasureRequest { Paths = [path], Source = source });
            return ResultsJson.Measure([log.Result with { From = null }]);
        }
        catch (InputException e)
        {
            return e.Message.Replace(SummaryFile.Ending, "", StringComparison.Ordinal);
        }
    }

    private static SummaryAbout AboutOf(ReadLog log, PowerSource? source, string path = "log.csv") => NoFiles with
    {
        Files = [.. log.Outcomes.Select(o => new SummarizedFile(path, o.Bytes, DateTimeOffset.UnixEpoch, o.Sha256))],
        Said = LogSettings.Of(new MeasureRequest { Paths = [path], Source = source }),
    };

    private static ReadLog? TryRead(MeasureRequest request)
    {
        try
        {
            return LogReading.Of(request with { KeepsRows = true });
        }
        catch (InputException)
        {
            return null;
        }
    }
}
