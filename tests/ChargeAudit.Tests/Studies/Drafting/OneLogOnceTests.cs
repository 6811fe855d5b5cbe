using System.Globalization;
using System.Text;
using ChargeAudit.Cli.Page;
using ChargeAudit.Logs;
using ChargeAudit.Measuring;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Reports.Files;
using ChargeAudit.Studies.Drafting;

namespace ChargeAudit.Tests.Studies.Drafting;

/// <summary>Two logs of a charge each are two runs, however many summaries of them lie in the folder.</summary>
public sealed class OneLogOnceTests : IDisposable
{
    private static readonly LogOptions Usb = new() { Point = MeasuringPoint.Usb };
    private static readonly DateTime Old = new(2031, 5, 8, 0, 0, 0, DateTimeKind.Utc);

    private readonly string _folder = Directory.CreateTempSubdirectory("chargeaudit-once-").FullName;

    public OneLogOnceTests()
    {
        Write("cable.csv", 2, 0);
        Write("pad.csv", 3, 1);
    }

    private string Summaries => Path.Combine(_folder, "summaries");

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Fact]
    public void A_log_stands_for_itself_where_summaries_of_it_are_there_too()
    {
        Summarize(new LogOptions());
        Summarize(Usb);
        var draft = Drafted(_folder);
        Assert.Equal(["cable.csv", "pad.csv"], Files(draft));
        Assert.Equal(4, draft.PassedOver.Count);
        Assert.All(draft.PassedOver, p => Assert.Contains("a summary of", p.Why, StringComparison.Ordinal));
    }

    // The logs show no voltage, and would be taken as measured at the wall.
    [Fact]
    public void The_point_that_was_stated_with_a_summary_stands()
    {
        Summarize(Usb);
        Assert.Equal([MeasuringPoint.Usb], Drafted(Summaries).Meters.Select(m => m.Point));
    }

    // The log of then is gone; its summary beside the log of now would be a second charge.
    [Fact]
    public void A_summary_of_a_log_as_it_was_before_is_no_other_log()
    {
        Summarize(Usb);
        Write("cable.csv", 2, 0, rows: 3700);
        Assert.Equal(["cable.csv", "pad.csv"], Files(Drafted(_folder)));
    }

    [Fact]
    public void Of_two_summaries_the_one_for_which_more_was_stated_is_used()
    {
        Summarize(new LogOptions());
        string[] before = Directory.GetFiles(Summaries);
        Summarize(Usb);
        var draft = Drafted(Summaries);
        Assert.Equal([.. Directory.GetFiles(Summaries).Except(before).Select(f => Path.GetFileName(f)).Order(StringComparer.Ordinal)],
            Files(draft));
        Assert.Equal([.. before.Select(f => Path.GetFileName(f)).Order(StringComparer.Ordinal)], draft.PassedOver.Select(p => p.File));
    }

    [Fact]
    public void Of_two_summaries_under_the_same_settings_one_is_used()
    {
        Summarize(Usb);
        Summarize(Usb, meter: "another name");
        Assert.Equal(4, Directory.GetFiles(Summaries).Length);
        Assert.Equal(2, Files(Drafted(Summaries)).Count);
    }

    [Fact]
    public void Two_summaries_that_contradict_each_other_are_refused_with_what_differs()
    {
        Summarize(Usb);
        Summarize(Usb with { Samples = SampleKind.AverageEnding });
        Summarize(Usb with { Samples = SampleKind.Instantaneous });
        var refused = Assert.Throws<InputException>(() => Drafted(Summaries));
        Assert.Equal(InputProblem.Unusable, refused.Problem);
        Assert.Contains("cable.csv", refused.Message, StringComparison.Ordinal);
        Assert.Contains("samples was", refused.Message, StringComparison.Ordinal);
        Assert.Contains("remove the one", refused.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Two_summaries_that_each_say_what_the_other_does_not_are_refused()
    {
        Summarize(Usb);
        Summarize(new LogOptions { Samples = SampleKind.Instantaneous });
        Assert.Contains("was stated for the one only", Assert.Throws<InputException>(() => Drafted(Summaries)).Message,
            StringComparison.Ordinal);
    }

    [Fact]
    public void Summaries_of_two_states_of_a_log_are_refused_without_it()
    {
        Summarize(Usb);
        Write("cable.csv", 2, 0, rows: 3700);
        Summarize(Usb);
        Assert.Contains("not of the same bytes", Assert.Throws<InputException>(() => Drafted(Summaries)).Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_log_that_was_summarized_in_two_places_is_one_log()
    {
        Summarize(Usb);
        string other = Directory.CreateDirectory(Path.Combine(_folder, "copy")).FullName;
        File.Copy(Path.Combine(_folder, "pad.csv"), Path.Combine(other, "pad.csv"));
        Read(new LogOptions(), Path.Combine(other, "pad.csv"), "copy/pad.csv", "bench");
        Assert.Equal(2, Files(Drafted(Summaries)).Count);
    }

    [Fact]
    public void Two_logs_of_one_name_are_two_logs()
    {
        Summarize(Usb);
        Write("second/pad.csv", 3.1, 2);
        Read(Usb, Path.Combine(_folder, "second", "pad.csv"), "second/pad.csv", "bench");
        Assert.Equal(3, Files(Drafted(Summaries)).Count);
    }

    // The hashes of parts do not show that of the whole.
    [Fact]
    public void A_log_that_was_joined_from_parts_is_the_log_that_was_read_whole()
    {
        Summarize(Usb, meter: "whole");
        foreach (string log in new[] { "cable.csv", "pad.csv" })
        {
            var request = Request(Usb, Path.Combine(_folder, log), log, "parts");
            LogParts.Summarize(request, 1, 2, TestContext.Current.CancellationToken);
            LogParts.Summarize(request, 2, 2, TestContext.Current.CancellationToken);
            request.Summaries!.Join(request);
        }

        var draft = Drafted(Summaries);
        Assert.Equal(2, Files(draft).Count);
        Assert.Equal(2, draft.PassedOver.Count(p => p.Why.Contains("of the same log as", StringComparison.Ordinal)));
    }

    [Fact]
    public void The_page_tells_of_a_log_and_a_summary_of_it()
    {
        Summarize(Usb);
        TakenLog Taken(string folder, string file) =>
            new(file, Path.Combine(folder, file), file, LogLook.Of(folder, [file], null, TestContext.Current.CancellationToken), file);
        string[] summaries = [.. Directory.GetFiles(Summaries).Select(f => Path.GetFileName(f)).Order(StringComparer.Ordinal)];
        var state = PageStudy.State([Taken(_folder, "cable.csv"), Taken(_folder, "pad.csv"), Taken(Summaries, summaries[0])],
            TestContext.Current.CancellationToken);
        Assert.Equal($"cable.csv and {summaries[0]} hold one recording: remove one, or its charge counts twice.",
            Assert.Single(state.Notes));
    }

    private static List<string> Files(StudyDraft draft) =>
        [.. draft.Runs.Concat(draft.Standby).SelectMany(r => r.Logs.Values).SelectMany(l => l.Files).Order(StringComparer.Ordinal)];

    private static StudyDraft Drafted(string folder) => Drafter.Of(folder, cancellation: TestContext.Current.CancellationToken);

    private void Summarize(LogOptions said, string meter = "bench")
    {
        Read(said, Path.Combine(_folder, "cable.csv"), "cable.csv", meter);
        Read(said, Path.Combine(_folder, "pad.csv"), "pad.csv", meter);
    }

    private void Read(LogOptions said, string path, string name, string meter) =>
        LogReading.Of(Request(said, path, name, meter), null, TestContext.Current.CancellationToken);

    private MeasureRequest Request(LogOptions said, string path, string name, string meter) => new()
    {
        Paths = [path],
        Names = [name],
        Meter = new Meter { Name = meter, Options = said },
        Summaries = new SummaryFolder(Summaries, "1", (file, bytes) => AtomicFile.Write(file, bytes)),
    };

    // Five minutes of waiting, a charge with a taper, and the full device.
    private void Write(string name, double plateauW, int day, int rows = 3600)
    {
        var text = new StringBuilder("Time,Voltage (V),Current (A)\n");
        var start = new DateTimeOffset(2031, 5, 7, 8, 0, 0, TimeSpan.Zero).AddDays(day);
        for (int s = 0; s < rows; s++)
        {
            double power = s < 300 ? 0.001 : s < 2000 ? plateauW : s < 3000 ? plateauW * Math.Exp(-(s - 2000) / 500.0) : 0.02;
            text.Append(CultureInfo.InvariantCulture, $"{start.AddSeconds(s):yyyy-MM-ddTHH:mm:ss},5.000,{power / 5:F5}\n");
        }

        string path = Path.Combine(_folder, name);
        Directory.CreateDirectory(Path.GetDirectoryName(path)!);
        File.WriteAllText(path, text.ToString());
        File.SetLastWriteTimeUtc(path, Old.AddSeconds(rows));
    }
}
