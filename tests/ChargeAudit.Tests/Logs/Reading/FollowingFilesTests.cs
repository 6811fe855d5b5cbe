using ChargeAudit.Logs;
using ChargeAudit.Logs.Layout;
using ChargeAudit.Logs.Reading;
using ChargeAudit.Measuring;
using ChargeAudit.Metrology.Diagnostics;

namespace ChargeAudit.Tests.Logs.Reading;

/// <summary>Several files that follow one another, read as one log.</summary>
public sealed class FollowingFilesTests
{
    [Fact]
    public void Files_that_meet_are_one_log()
    {
        var (outcomes, samples, _) = Read([Stamped(0, 10), Stamped(10, 10), Stamped(20, 5)]);

        Assert.Equal(Enumerable.Range(0, 25).Select(i => (double)i), samples.Select(s => s.TimeS));
        Assert.All(outcomes, o => Assert.Empty(o.Faults));
        Assert.Equal([10L, 10, 5], outcomes.Select(o => o.Rows));
    }

    [Fact]
    public void Rows_that_overlap_are_left_out_and_counted()
    {
        var (outcomes, samples, _) = Read([Stamped(0, 10), Stamped(7, 10)]);

        Assert.Equal(Enumerable.Range(0, 17).Select(i => (double)i), samples.Select(s => s.TimeS));
        Fault fault = Assert.Single(outcomes[1].Faults);
        Assert.Equal((FaultKind.TimeBackwards, 2L, 4L, 3L), (fault.Kind, fault.FirstLine, fault.LastLine, fault.Count));
        Assert.Equal((7L, 3L), (outcomes[1].Rows, outcomes[1].RowsSkipped));
        Assert.Contains("lie before the end of 0.csv", fault.Detail, StringComparison.Ordinal);
    }

    [Fact]
    public void A_hole_between_files_is_a_gap()
    {
        var (outcomes, samples, _) = Read([Stamped(0, 10), Stamped(100, 10)]);

        Assert.Equal(100, samples[10].TimeS);
        Fault fault = Assert.Single(outcomes[1].Faults);
        Assert.Equal((FaultKind.Gap, 2L), (fault.Kind, fault.FirstLine));
        Assert.StartsWith("91 s lie between the end of 0.csv and the first row", fault.Detail, StringComparison.Ordinal);
    }

    [Fact]
    public void Files_of_elapsed_time_are_put_end_to_end_and_told()
    {
        const string text = "t (s),U (V),I (A)\n0,5,1\n1,5,1\n2,5,1\n";

        var (outcomes, samples, _) = Read([text, text]);

        Assert.Equal([0.0, 1, 2, 3, 4, 5], samples.Select(s => s.TimeS));
        Assert.Contains("The file holds no date: its first row was put one median interval after the end of 0.csv.", outcomes[1].Notes);
    }

    [Fact]
    public void Clocks_without_a_date_go_on_over_midnight_from_file_to_file()
    {
        // Three days of a row every 10 min from 18:00 on, a file a day: 36, 144 and 72 rows.
        string day1 = Clocks(18 * 60, 36), day2 = Clocks(0, 144), day3 = Clocks(0, 72);

        var (outcomes, samples, _) = Read([day1, day2, day3]);

        Assert.Equal(Enumerable.Range(0, 252).Select(i => 600.0 * i), samples.Select(s => s.TimeS));
        Assert.All(outcomes, o => Assert.Empty(o.Faults));
        Assert.All(outcomes.Skip(1),
            o => Assert.Contains(o.Notes, n => n.StartsWith("The file holds no date: its first row was put at the next time",
                StringComparison.Ordinal)));
    }

    [Fact]
    public void One_charge_over_midnight_in_files_of_a_day_is_one_charge_with_all_its_energy()
    {
        // 8 W from 22:00 to 02:00, a row every 10 s: 32 Wh.
        string folder = Directory.CreateTempSubdirectory("chargeaudit-").FullName;
        try
        {
            string first = Path.Combine(folder, "monday.csv"), second = Path.Combine(folder, "tuesday.csv");
            File.WriteAllText(first, Powers(20 * 3600, 1440));
            File.WriteAllText(second, Powers(86_400, 1440));
            var measured = LogMeasurer.Measure(new MeasureRequest { Paths = [first, second] }, null,
                TestContext.Current.CancellationToken).Result;

            Assert.Equal(32, Assert.Single(measured.Sessions).Energy.Value, 0.1);
            Assert.Equal(32.8, measured.Energy.Value, 0.1);
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    [Fact]
    public void A_clock_that_was_read_a_moment_earlier_than_the_file_before_ended_is_told()
    {
        // 18:30 to 18:39:50, then again from 18:39:40: ten seconds of overlap, and not a day.
        var (outcomes, samples, _) = Read([Clocks(18 * 60, 36, stepMin: 1), Clocks((18 * 60) + 34, 10, stepMin: 1)]);

        Assert.True(samples[^1].TimeS < 3600, $"{samples[^1].TimeS} s");
        Assert.NotEmpty(outcomes[1].Faults.Select(f => f.Detail).Concat(outcomes[1].Notes));
    }

    [Fact]
    public void Files_with_other_quantities_are_refused()
    {
        InputException refused =
            Assert.Throws<InputException>(() => Read([Stamped(0, 10), "time,P (W)\n2031-05-07T18:31:00,5\n2031-05-07T18:31:01,5\n"]));

        Assert.Contains("1.csv does not hold the same quantities as ", refused.Message, StringComparison.Ordinal);
        Assert.EndsWith("files that follow one another must have the same columns.", refused.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Strict_reading_refuses_an_overlap()
    {
        InputException refused =
            Assert.Throws<InputException>(() => Read([Stamped(0, 10), Stamped(7, 10)], new LogOptions { Strict = true }));

        Assert.Contains("1.csv, line 2: Rows lie before the end of 0.csv", refused.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Progress_counts_the_bytes_of_all_files()
    {
        var told = new Progress();

        var (outcomes, _, _) = Read([Stamped(0, 10), Stamped(10, 10)], progress: told);

        Assert.Equal(outcomes.Sum(o => o.Bytes), told.Last);
    }

    private static string Clocks(int fromMin, int rows, int stepMin = 10) => "clock,U (V),I (A)\n"
        + string.Concat(Enumerable.Range(0, rows)
            .Select(i => $"{new DateTime(2031, 5, 7).AddMinutes(fromMin + (stepMin * i)):HH:mm:ss},5,1\n"));

    // A charge at 8 W from 22:00 to 02:00 on the next day, 0.2 W before and after, with the scatter that every sensor has.
    private static string Powers(int fromS, int rows) => "clock,power (W)\n"
        + string.Concat(Enumerable.Range(0, rows).Select(i => fromS + (10 * i))
            .Select(s => $"{new DateTime(2031, 5, 7).AddSeconds(s):HH:mm:ss},"
                + (s is >= 79_200 and < 93_600 ? 8 + (0.01 * (s / 10 % 3)) - 0.01 : 0.2 + (0.001 * (s / 10 % 3)) - 0.001)
                    .ToString("F3", System.Globalization.CultureInfo.InvariantCulture) + "\n"));

    private static string Stamped(int fromS, int rows) => "time,U (V),I (A)\n"
        + string.Concat(Enumerable.Range(fromS, rows)
            .Select(i => $"{new DateTime(2031, 5, 7, 18, 30, 0).AddSeconds(i):yyyy-MM-ddTHH:mm:ss},5,1\n"));

    private static (IReadOnlyList<ReadOutcome> Outcomes, IReadOnlyList<Sample> Samples, LogLayout Layout) Read(string[] texts,
        LogOptions? options = null, IProgress<long>? progress = null)
    {
        options ??= new LogOptions();
        string folder = Directory.CreateTempSubdirectory("chargeaudit-").FullName;
        try
        {
            string[] paths = [.. texts.Select((text, i) =>
            {
                string path = Path.Combine(folder, $"{i}.csv");
                File.WriteAllText(path, text);
                return path;
            })];
            LogLayout layout = LogReader.Inspect(paths, options);
            var sink = new Collected();
            return (LogReader.ReadInto(paths, layout, options, ref sink, progress, CancellationToken.None), sink.Samples, layout);
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    private sealed class Progress : IProgress<long>
    {
        public long Last { get; private set; }

        public void Report(long value) => Last = value;
    }
}
