using ChargeAudit.Comparing.Auditing;
using ChargeAudit.Comparing.Results;
using ChargeAudit.Logs;
using ChargeAudit.Reports.Json;
using ChargeAudit.Reports.Markdown;
using ChargeAudit.Simulation;
using ChargeAudit.Simulation.Scenarios;
using ChargeAudit.Studies;
using ChargeAudit.Tests.Reports;
using ChargeAudit.Tests.Reports.Json;
using ChargeAudit.Tests.Simulation;

namespace ChargeAudit.Tests.Comparing.Auditing;

/// <summary>A pad's measured efficiency beside its coils' best, from logs to report.</summary>
public sealed class MeasuredBesidePossibleTests : IDisposable
{
    private const string Coils =
        "\n[methods.pad.coils]\nprimary = \"24 uH\"\nsecondary = \"12 uH\"\nprimary-quality = \"100\"\nsecondary-quality = \"40\"\n"
        + "frequency = \"127.7 kHz\"\n";

    private readonly string _folder = Directory.CreateTempSubdirectory("chargeaudit-coils-").FullName;

    public void Dispose() => Directory.Delete(_folder, true);

    [Fact]
    public void With_meters_on_both_sides_of_the_pad_its_loss_is_split()
    {
        WriteTablet();
        var audit = Audit(Coils + "coupling = \"0.3\"\n");
        var pad = audit.Methods.Single(m => m.Name == "pad");
        var coils = pad.Coils!;

        // standards: k 0.3, Q 100 and 40 give nine tenths exactly.
        Assert.Equal(0.9, coils.PossibleEfficiency, 1e-12);
        double usb = pad.Points[MeasuringPoint.Usb].EnergyPerCharge.Value!.Value,
            device = pad.Points[MeasuringPoint.Device].EnergyPerCharge.Value!.Value;
        Assert.Equal(device / usb, coils.MeasuredEfficiency.Value!.Value, 1e-3);
        Assert.Equal(device / 9, coils.CoilLoss.Value!.Value, 1e-9 * device);
        Assert.Equal(usb - device, coils.CoilLoss.Value.Value + coils.Rest.Value!.Value, 1e-9 * usb);
        Assert.NotNull(coils.Rest.Value.Interval());
        Assert.False(coils.Contradicts);
        Assert.Null(audit.Methods.Single(m => m.Name == "cable").Coils);

        string report = MarkdownReport.Of(audit, []);
        Assert.Contains("Measured beside possible", report, StringComparison.Ordinal);
        Assert.Contains("are set by coupling and coil quality", report, StringComparison.Ordinal);
        Assert.Contains("90.0 %", report, StringComparison.Ordinal);
        Assert.Empty(ResultsSchema.Problems(ResultsJson.Audit(audit)));

        // Coils so poor that no pad with them could do what was measured.
        var impossible = Audit(Coils + "coupling = \"0.02\"\n");
        Assert.True(impossible.Methods.Single(m => m.Name == "pad").Coils!.Contradicts);
        Assert.Contains("this cannot be", MarkdownReport.Of(impossible, []), StringComparison.Ordinal);
    }

    [Fact]
    public void Without_a_meter_at_the_device_the_report_says_what_is_missing()
    {
        foreach (string file in Directory.GetFiles(Path.GetDirectoryName(Golden.RepositoryFile("sample-logs", "study.toml"))!))
        {
            File.Copy(file, Path.Combine(_folder, Path.GetFileName(file)));
        }

        var audit = Audit(Coils + "coupling = \"0.3\"\n");
        var coils = audit.Methods.Single(m => m.Name == "pad").Coils!;
        Assert.Null(coils.MeasuredEfficiency.Value);
        Assert.Null(coils.Rest.Value);
        Assert.Contains("a meter at the device is missing", MarkdownReport.Of(audit, []), StringComparison.Ordinal);
        Assert.Empty(ResultsSchema.Problems(ResultsJson.Audit(audit)));
        Assert.DoesNotContain("Measured beside possible", MarkdownReport.Of(Audit(""), []), StringComparison.Ordinal);
    }

    private void WriteTablet()
    {
        var scenario = SimulationScenario.Load(Golden.RepositoryFile("docs", "scenarios", "10-tablet.toml"));
        WrittenStudy.To(Simulator.Run(scenario, 3), _folder);
    }

    private AuditResult Audit(string more)
    {
        string file = Path.Combine(_folder, "study.toml"), with = Path.Combine(_folder, "with-coils.toml");
        File.WriteAllText(with, File.ReadAllText(file) + more);
        return Auditor.Run(StudyReader.Load(with), new AuditOptions
        {
            ProgramVersion = "",
            CommandLine = "",
            StudyFile = with,
            Clock = TimeProvider.System,
        });
    }
}
