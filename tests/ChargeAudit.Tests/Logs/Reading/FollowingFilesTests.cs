using ChargeAudit.Logs;
using ChargeAudit.Logs.Layout;
using ChargeAudit.Logs.Reading;
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
