using System.Text;
using ChargeAudit.Checking;
using ChargeAudit.Logs;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Studies;

namespace ChargeAudit.Tests.Checking;

public sealed class HistoryFileTests : IDisposable
{
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(30);

    private readonly string _folder = Directory.CreateTempSubdirectory("chargeaudit-").FullName;

    private string File => Path.Combine(_folder, "history.jsonl");

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Fact]
    public void An_entry_is_read_back_as_it_was_written()
    {
        var first = Entry("a", 13.1);
        Append(first);
        var all = Append(Entry("b", 13.2)).Entries;
        Assert.Equal(2, all.Count);
        Assert.Equal((first.Time, first.Candidate, first.CandidateSha256, first.BaselineSha256, first.Verdict, first.Device),
            (all[0].Time, all[0].Candidate, all[0].CandidateSha256, all[0].BaselineSha256, all[0].Verdict, all[0].Device));
        Assert.Equal(first.Figures[0] with { Meters = [] }, all[0].Figures[0] with { Meters = [] });
        Assert.Equal(first.Figures[0].Meters, all[0].Figures[0].Meters);
        Assert.Equal(2, System.IO.File.ReadAllLines(File).Length);
    }

    [Fact]
    public void An_entry_is_one_line_with_the_words_of_the_results()
    {
        Append(Entry("a", 13.1) with { Device = null });
        Assert.Equal(
            """{"schema":"chargeaudit-history/1","time":"2031-03-01T09:00:00"""
            + """+01:00","candidate":"design \"ä\"","candidateSha256":"a","baselineSha256":"base","verdict":"pass","device":null"""
            + ""","figures":[{"method":"pad","point":"usb","figure":"energy-per-charge","unit":"Wh","candidate":13.1,"candidateRuns":5"""
            + ""","candidateScatter":0.005,"baseline":13,"baselineRuns":5,"baselineScatter":0.005,"verdict":"pass","meters":["bench"]}]}"""
            + "\n",
            System.IO.File.ReadAllText(File));
    }

    [Theory]
    [InlineData("\"verdict\":\"pass\",\"device\"", "\"verdict\":\"excellent\",\"device\"")]
    [InlineData("\"unit\":\"Wh\",", "")]
    [InlineData("\"unit\":\"Wh\"", "\"unit\":null")]
    [InlineData("\"candidate\":13.1", "\"candidate\":\"13.1\"")]
    public void An_entry_with_a_wrong_member_is_refused_by_its_line(string right, string wrong)
    {
        Append(Entry("a", 13.1));
        Append(Entry("b", 13.1));
        string text = System.IO.File.ReadAllText(File);
        int last = text.LastIndexOf(right, StringComparison.Ordinal);
        System.IO.File.WriteAllText(File, text[..last] + wrong + text[(last + right.Length)..]);
        Assert.Contains("line 2", Assert.Throws<InputException>(() => Append(Entry("c", 13))).Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Many_writers_at_once_lose_nothing()
    {
        Parallel.For(0, 6, writer =>
        {
            for (int i = 0; i < 10; i++)
            {
                Append(Entry($"{writer}-{i}", 13));
            }
        });
        var last = Append(Entry("last", 13));
        Assert.Null(last.Repaired);
        Assert.Equal(61, last.Entries.Select(e => e.CandidateSha256).Distinct().Count());
    }

    [Fact]
    public void A_line_that_a_crash_cut_anywhere_is_set_aside_and_the_rest_stays()
    {
        Append(Entry("a", 13));
        byte[] whole = System.IO.File.ReadAllBytes(File);
        Append(Entry("b", 13));
        byte[] both = System.IO.File.ReadAllBytes(File);
        for (int cut = whole.Length + 1; cut < both.Length - 1; cut += 41)
        {
            System.IO.File.WriteAllBytes(File, both[..cut]);
            var appended = Append(Entry("c", 13));
            Assert.Equal(["a", "c"], appended.Entries.Select(e => e.CandidateSha256));
            Assert.Contains("cut short", appended.Repaired, StringComparison.Ordinal);
            Assert.EndsWith(Encoding.UTF8.GetString(both[whole.Length..cut]) + "\n", System.IO.File.ReadAllText(File + ".torn"),
                StringComparison.Ordinal);
            Assert.Equal(["a", "c", "d"], Append(Entry("d", 13)).Entries.Select(e => e.CandidateSha256));
        }
    }

    [Fact]
    public void A_whole_last_line_without_its_end_is_kept()
    {
        Append(Entry("a", 13));
        System.IO.File.WriteAllBytes(File, System.IO.File.ReadAllBytes(File)[..^1]);
        var appended = Append(Entry("b", 13));
        Assert.Null(appended.Repaired);
        Assert.Equal(["a", "b"], appended.Entries.Select(e => e.CandidateSha256));
        Assert.False(System.IO.File.Exists(File + ".torn"));
    }

    [Fact]
    public void Zeros_that_a_lost_write_left_are_set_aside()
    {
        Append(Entry("a", 13));
        using (var file = new FileStream(File, FileMode.Append))
        {
            file.Write(new byte[100]);
        }

        Assert.Equal(["a", "b"], Append(Entry("b", 13)).Entries.Select(e => e.CandidateSha256));
    }

    [Theory]
    [InlineData("notes of mine\n", "line 1")]
    [InlineData("notes of mine", "line 1")]
    [InlineData("{\"schema\":\"chargeaudit-history/2\"}\n", "line 1")]
    public void A_file_that_is_no_history_is_refused_and_left_as_it_was(string text, string mentions)
    {
        System.IO.File.WriteAllText(File, text);
        var e = Assert.Throws<InputException>(() => Append(Entry("a", 13)));
        Assert.Contains(mentions, e.Message, StringComparison.Ordinal);
        Assert.Equal(text, System.IO.File.ReadAllText(File));
    }

    [Fact]
    public void A_writer_that_never_lets_go_is_given_up_on()
    {
        using var held = new FileStream(File, FileMode.OpenOrCreate, FileAccess.ReadWrite, FileShare.None);
        var e = Assert.Throws<InputException>(() =>
            HistoryFile.Append(File, Entry("a", 13), TimeSpan.FromMilliseconds(80), TimeProvider.System,
            TestContext.Current.CancellationToken));
        Assert.Equal(InputProblem.CannotWrite, e.Problem);
    }

    [Fact]
    public void A_folder_in_its_place_is_refused_at_once() =>
        Assert.Equal(InputProblem.CannotWrite,
            Assert.Throws<InputException>(() =>
            HistoryFile.Append(_folder, Entry("a", 13), Patience, TimeProvider.System, TestContext.Current.CancellationToken)).Problem);

    internal static HistoryEntry Entry(string hash, double candidateWh, double baselineWh = 13, CheckVerdict verdict = CheckVerdict.Pass) =>
        new(
        new DateTimeOffset(2031, 3, 1, 9, 0, 0, TimeSpan.FromHours(1)),
        "design \"ä\"",
        hash,
        "base",
        verdict,
        "P",
        [new HistoryFigure("pad", MeasuringPoint.Usb, CheckedFigure.EnergyPerCharge, "Wh", candidateWh, 5, 0.005, baselineWh, 5, 0.005,
            verdict, ["bench"])]);

    private HistoryAppended Append(HistoryEntry entry) => HistoryFile.Append(File, entry, Patience, TimeProvider.System);
}
