using ChargeAudit.Logs;
using ChargeAudit.Measuring;
using ChargeAudit.Measuring.Integration;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Reports.Files;

namespace ChargeAudit.Tests.Measuring.Summaries;

/// <summary>Which summary of a folder stands for a log, and when none does.</summary>
public sealed class SummaryFolderTests : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("chargeaudit-").FullName;

    private string Log => Path.Combine(_folder, "log.csv");

    private string Summaries => Path.Combine(_folder, "summaries");

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Fact]
    public void A_log_is_read_once_and_not_needed_any_more()
    {
        Write(Log, 5);
        double energy = Measured(out var first);
        Assert.Equal((0, 1), (first.Used.Count, first.Added.Count));
        Assert.Equal(energy, Measured(out var second));
        Assert.Equal((1, 0), (second.Used.Count, second.Added.Count));
        File.Delete(Log);
        Assert.Equal(energy, Measured(out var third));
        Assert.Equal((1, 0), (third.Used.Count, third.Added.Count));
    }

    [Fact]
    public void A_log_that_has_changed_is_read_again_and_that_is_told()
    {
        Write(Log, 5);
        Measured(out _);
        Write(Log, 7, rows: 62);
        Assert.Equal(7 * 61 / 3600.0, Measured(out var again), 1e-12);
        Assert.Contains("has changed since", Assert.Single(again.PassedOver), StringComparison.Ordinal);
        Assert.Equal((0, 1), (again.Used.Count, again.Added.Count));
    }

    // 5 W and 7 W are the same number of bytes.
    [Fact]
    public void Where_only_the_time_is_another_the_hash_decides()
    {
        Write(Log, 5);
        double energy = Measured(out _);
        File.SetLastWriteTimeUtc(Log, DateTime.UtcNow.AddDays(1));
        Assert.Equal(energy, Measured(out var same));
        Assert.Single(same.Used);
        Write(Log, 7);
        File.SetLastWriteTimeUtc(Log, DateTime.UtcNow.AddDays(2));
        Assert.NotEqual(energy, Measured(out var changed));
        Assert.Single(changed.Added);
    }

    [Fact]
    public void To_verify_hashes_a_log_whatever_its_size_and_time_say()
    {
        var lastYear = DateTime.UtcNow.AddDays(-365);
        Write(Log, 5);
        File.SetLastWriteTimeUtc(Log, lastYear);
        double energy = Measured(out _);
        Write(Log, 7);
        File.SetLastWriteTimeUtc(Log, lastYear);
        Assert.Equal(energy, Measured(out _));
        Assert.NotEqual(energy, Measured(out var verified, verify: true));
        Assert.Single(verified.PassedOver);
    }

    // A coarse clock gives both states the same time.
    [Fact]
    public void A_log_that_was_fresh_when_it_was_summarized_is_hashed()
    {
        var soon = DateTime.UtcNow.AddHours(1);
        Write(Log, 5);
        File.SetLastWriteTimeUtc(Log, soon);
        double energy = Measured(out _);
        Write(Log, 7);
        File.SetLastWriteTimeUtc(Log, soon);
        Assert.NotEqual(energy, Measured(out _));
    }

    [Fact]
    public void Two_logs_of_one_name_do_not_share_a_summary()
    {
        string other = Path.Combine(Directory.CreateDirectory(Path.Combine(_folder, "other")).FullName, "log.csv");
        Write(Log, 5);
        Write(other, 7);
        double first = Measured(out _, Log), second = Measured(out _, other);
        Assert.Equal(2, Directory.GetFiles(Summaries).Length);
        Assert.Equal((first, second), (Measured(out _, Log), Measured(out _, other)));
        File.Delete(Log);
        var refused = Assert.Throws<InputException>(() => Measured(out _, Log));
        Assert.Contains("two states of it", refused.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_damaged_summary_is_made_again_from_the_log_and_refused_without_it()
    {
        Write(Log, 5);
        double energy = Measured(out _);
        string file = Assert.Single(Directory.GetFiles(Summaries));
        File.WriteAllBytes(file, File.ReadAllBytes(file)[..^100]);
        Assert.Equal(energy, Measured(out var again));
        Assert.Contains("no whole summary", Assert.Single(again.PassedOver), StringComparison.Ordinal);
        Assert.Equal(energy, Measured(out var mended));
        Assert.Single(mended.Used);
        File.WriteAllBytes(file, File.ReadAllBytes(file)[..^100]);
        File.Delete(Log);
        Assert.Contains("cannot stand for it", Assert.Throws<InputException>(() => Measured(out _)).Message, StringComparison.Ordinal);
    }

    [Fact]
    public void What_is_said_of_a_log_belongs_to_its_summary()
    {
        Write(Log, 5);
        Measured(out _);
        var folder = Folder(false);
        LogMeasurer.Measure(new MeasureRequest { Paths = [Log], Summaries = folder, From = new LogTime(null, 10, false) }, null,
            TestContext.Current.CancellationToken);
        Assert.Equal((0, 1), (folder.Used.Count, folder.Added.Count));
        Assert.Equal(2, Directory.GetFiles(Summaries).Length);
    }

    [Fact]
    public void A_log_that_is_not_there_and_was_summarized_with_other_settings_is_refused_with_what_differs()
    {
        Write(Log, 5);
        Measured(out _);
        File.Delete(Log);
        var refused = Assert.Throws<InputException>(() => LogMeasurer.Measure(
            new MeasureRequest { Paths = [Log], Names = ["log.csv"], Summaries = Folder(false), Point = MeasuringPoint.Usb }, null,
            TestContext.Current.CancellationToken));
        Assert.Contains("log.csv is not there", refused.Message, StringComparison.Ordinal);
        Assert.Contains("point was not stated then and is \"usb\" now", refused.Message, StringComparison.Ordinal);
        Assert.Contains("state the point usb", refused.Message, StringComparison.Ordinal);
        Assert.Equal(Remedy.Summarize, refused.Remedy);
    }

    // An hour of 2.03 W, of which the counter beside it has seen 1 W.
    [Fact]
    public void A_summary_by_a_counter_is_found_beside_the_one_by_power_and_asked_for_where_it_is_not()
    {
        File.WriteAllLines(Log, ["time (s),P (W),energy (Wh)", .. Enumerable.Range(0, 3601).Select(i =>
            InvariantText.Of($"{i},{2 + (i % 7 * 0.01):0.00},{Math.Round(i / 3600.0, 5):0.00000}"))]);
        var request = new MeasureRequest { Paths = [Log], Names = ["log.csv"], Summaries = Folder(false) };
        Assert.Equal("power column", LogMeasurer.Measure(request, null, TestContext.Current.CancellationToken).Result.PowerFrom);
        string summary = Assert.Single(Directory.GetFiles(Summaries));
        var ofSummary = new MeasureRequest { Paths = [summary], Source = PowerSource.EnergyCounter };
        var refused = Assert.Throws<InputException>(() => LogMeasurer.Measure(ofSummary, null, TestContext.Current.CancellationToken));
        Assert.Contains("needs a summary by each", refused.Message, StringComparison.Ordinal);

        LogMeasurer.Measure(request with { Source = PowerSource.EnergyCounter }, null, TestContext.Current.CancellationToken);
        var byCounter = LogMeasurer.Measure(ofSummary, null, TestContext.Current.CancellationToken).Result;
        Assert.Equal("energy counter", byCounter.PowerFrom);
        Assert.Equal(1, byCounter.Energy.Value, 1e-3);
    }

    private double Measured(out SummaryFolder folder, string? path = null, bool verify = false)
    {
        folder = Folder(verify);
        return LogMeasurer.Measure(new MeasureRequest { Paths = [path ?? Log], Names = ["log.csv"], Summaries = folder })
            .Result.Energy.Value;
    }

    private SummaryFolder Folder(bool verify) => new(Summaries, "1", (path, bytes) => AtomicFile.Write(path, bytes), verify);

    private static void Write(string path, int watts, int rows = 61) =>
        File.WriteAllLines(path, ["time (s),P (W)", .. Enumerable.Range(0, rows).Select(i => InvariantText.Of($"{i},{watts}.0"))]);
}
