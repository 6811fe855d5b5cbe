using ChargeAudit.Comparing.Auditing;
using ChargeAudit.Comparing.Results;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Studies;

namespace ChargeAudit.Tests.Comparing.Auditing.Doubts;

/// <summary>Studies whose logs were put together wrongly, from charges of this class's own making.</summary>
public sealed class StudyDoubtsTests : IDisposable
{
    private readonly InventedCharges _folder = new();

    public void Dispose() => _folder.Dispose();

    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    public void Clean_studies_are_not_doubted(int seed) => Assert.Empty(Audit(seed).Doubts);

    // The second run's wall log is from the first run's day: the clocks are a day apart.
    [Fact]
    public void Logs_of_different_days_belong_to_different_charges()
    {
        string doubt =
            Assert.Single(Audit(1, s => s.Replace("cable-2-wall.csv", "cable-9-wall.csv", StringComparison.Ordinal),
            f => f.Write("cable", 9, day: 40)).Doubts);
        Assert.StartsWith("The logs of cable-2 at the wall and at the adapter's output lie", doubt, StringComparison.Ordinal);
    }

    // The same without dates: a charge from 60 % instead of one from 5 % lasts less than half as long.
    [Fact]
    public void Logs_without_dates_belong_to_different_charges_where_these_last_differently()
    {
        string doubt = Assert.Single(
            Audit(1, s => s.Replace("pad-2-wall.csv", "pad-9-wall.csv", StringComparison.Ordinal),
                f => f.Write("pad", 9, day: 40, energyShare: 0.4), dated: false).Doubts);
        Assert.Contains("pad-2", doubt, StringComparison.Ordinal);
    }

    [Fact]
    public void Methods_that_changed_places_are_told()
    {
        string doubt = Assert.Single(Audit(1, s => s.Replace("method = \"pad\"", "method = \"x\"", StringComparison.Ordinal)
            .Replace("method = \"cable\"", "method = \"pad\"", StringComparison.Ordinal)
                .Replace("method = \"x\"", "method = \"cable\"", StringComparison.Ordinal)).Doubts, d =>
                d.Contains("at the wall", StringComparison.Ordinal));
        Assert.StartsWith("pad uses", doubt, StringComparison.Ordinal);
        Assert.Contains("changed places", doubt, StringComparison.Ordinal);
    }

    [Fact]
    public void A_run_that_names_the_files_of_another_counts_twice()
    {
        string doubt = Assert.Single(Audit(1, s => s.Replace("cable-2-", "cable-1-", StringComparison.Ordinal)).Doubts);
        Assert.Equal("cable-1-wall.csv is one log, and cable-1 and cable-2 both rest on it: one charge counts twice.", doubt);
    }

    [Fact]
    public void The_same_bytes_under_two_names_count_twice()
    {
        var audit = Audit(1, s => s.Replace("cable-2-usb.csv", "copy-usb.csv", StringComparison.Ordinal)
            .Replace("cable-2-wall.csv", "copy-wall.csv", StringComparison.Ordinal), f =>
        {
            f.Copy("cable-1-usb.csv", "copy-usb.csv");
            f.Copy("cable-1-wall.csv", "copy-wall.csv");
        });
        Assert.Contains("hold the same bytes under two names", Assert.Single(audit.Doubts), StringComparison.Ordinal);
    }

    // Saved again with other line ends: other bytes, the same readings.
    [Fact]
    public void The_same_readings_in_other_bytes_count_twice()
    {
        var audit = Audit(1, s => s.Replace("cable-2-usb.csv", "copy-usb.csv", StringComparison.Ordinal)
            .Replace("cable-2-wall.csv", "copy-wall.csv", StringComparison.Ordinal), f =>
        {
            f.Copy("cable-1-usb.csv", "copy-usb.csv", t => t.Replace("\n", "\r\n", StringComparison.Ordinal));
            f.Copy("cable-1-wall.csv", "copy-wall.csv", t => t.Replace("\n", "\r\n", StringComparison.Ordinal));
        });
        Assert.Contains("hold the same readings", Assert.Single(audit.Doubts), StringComparison.Ordinal);
    }

    [Fact]
    public void Strict_refuses_what_is_doubted()
    {
        var refused =
            Assert.Throws<InputException>(() => Audit(1, s => s.Replace("cable-2-", "cable-1-", StringComparison.Ordinal), strict: true));
        Assert.Contains("one charge counts twice; correct the study", refused.Message, StringComparison.Ordinal);
    }

    private AuditResult Audit(int seed, Func<string, string>? change = null, Action<InventedCharges>? more = null, bool dated = true,
        bool strict = false)
    {
        _folder.Begin(seed, dated);
        string study = _folder.WriteStudy(runs: 3);
        more?.Invoke(_folder);
        File.WriteAllText(study, (change ?? (s => s))(File.ReadAllText(study)));
        var options = new AuditOptions
        {
            ProgramVersion = "",
            CommandLine = "",
            StudyFile = study,
            Clock = TimeProvider.System,
            Strict = strict,
        };
        return Auditor.Run(StudyReader.Load(study), options, TestContext.Current.CancellationToken);
    }
}
