using System.Text;
using ChargeAudit.Checking;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Metrology.Uncertainty;
using ChargeAudit.Reports.Json;
using ChargeAudit.Studies;
using ChargeAudit.Tests.Reports;

namespace ChargeAudit.Tests.Checking;

public sealed class BaselineReaderTests
{
    private static readonly string Document = ResultsJson.Audit(new ReportFixture().Build());

    [Fact]
    public void What_was_written_is_read_back_as_it_was_measured()
    {
        var measured = AuditDesign.Of(new ReportFixture().Build());
        var read = BaselineReader.Read("results.json", Encoding.UTF8.GetBytes(Document));
        Assert.Equal((measured.Title, measured.DeviceName, measured.BatteryWh), (read.Title, read.DeviceName, read.BatteryWh));
        Assert.Equal(measured.LogSha256.Order(), read.LogSha256.Order());
        foreach (var (a, b) in measured.Methods.Zip(read.Methods))
        {
            Assert.Equal((a.Name, a.Kind, a.Runs.Count), (b.Name, b.Kind, b.Runs.Count));
            foreach (var (x, y) in a.Runs.SelectMany(r => r.Points).Zip(b.Runs.SelectMany(r => r.Points)))
            {
                Assert.Equal(x.Key, y.Key);
                Assert.Equal((x.Value.ChargeDurationS, x.Value.IntervalS, x.Value.PeakPowerW, x.Value.PeakStepW, x.Value.Meter),
                    (y.Value.ChargeDurationS, y.Value.IntervalS, y.Value.PeakPowerW, y.Value.PeakStepW, y.Value.Meter));
                Assert.Equal(x.Value.Sha256, y.Value.Sha256);
            }

            foreach (var (point, figures) in a.Points)
            {
                Same(figures.EnergyPerCharge.Value, b.Points[point].EnergyPerCharge.Value);
                Same(figures.MaintenancePower.Value, b.Points[point].MaintenancePower.Value);
                Same(figures.NoLoadPower.Value, b.Points[point].NoLoadPower.Value);
                Assert.Equal(figures.NoLoadPower.WhyNot, b.Points[point].NoLoadPower.WhyNot);
            }
        }
    }

    [Fact]
    public void The_settings_of_runs_are_read_back()
    {
        var factors =
            new RunFactors(new Dictionary<Factor, double>
            {
                [Factor.OffsetX] = -4,
                [Factor.Gap] = 3,
                [Factor.Rotation] = 15,
                [Factor.PowerLevel] = 15,
                [Factor.Temperature] = 23.5
            }, "silicone");
        var audit = new ReportFixture().Build();
        audit = audit with
        {
            Methods = [.. audit.Methods.Select(m => m with { Runs = [.. m.Runs.Select(r => r with { Factors = factors })] })],
        };
        var read = BaselineReader.Read("results.json", Encoding.UTF8.GetBytes(ResultsJson.Audit(audit)));
        Assert.All(read.Methods.SelectMany(m => m.Runs), r =>
        {
            Assert.Equal(factors.Values.OrderBy(v => v.Key), r.Factors.Values.OrderBy(v => v.Key));
            Assert.Equal("silicone", r.Factors.Case);
        });
    }

    [Fact]
    public void The_schema_that_is_read_is_the_one_that_is_written() => Assert.Equal(ResultsJson.AuditSchema, BaselineReader.Schema);

    [Theory]
    [InlineData("", "cut short")]
    [InlineData("time,power\n1,2\n", "not JSON")]
    [InlineData("[]", "no \"schema\"")]
    [InlineData("{}", "no \"schema\"")]
    [InlineData("{\"schema\":7}", "no \"schema\"")]
    [InlineData("{\"schema\":\"chargeaudit-measure/1\"}", "chargeaudit-measure/1")]
    [InlineData("{\"schema\":\"chargeaudit-audit/2\"}", "chargeaudit-audit/2")]
    [InlineData("{\"schema\":\"chargeaudit-audit/1\"}", "lacks parts of it")]
    public void Anything_else_is_refused_with_one_sentence(string text, string mentions)
    {
        var e = Assert.Throws<InputException>(() => BaselineReader.Read("b.json", Encoding.UTF8.GetBytes(text)));
        Assert.Equal(InputProblem.Unusable, e.Problem);
        Assert.StartsWith("b.json", e.Message, StringComparison.Ordinal);
        Assert.Contains(mentions, e.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_document_that_was_cut_short_anywhere_is_refused()
    {
        byte[] bytes = Encoding.UTF8.GetBytes(Document);
        for (int length = 0; length < bytes.Length - 2; length += 997)
        {
            Assert.Throws<InputException>(() => BaselineReader.Read("b.json", bytes.AsMemory(0, length)));
        }
    }

    [Theory]
    [InlineData("0")]
    [InlineData("-2")]
    [InlineData("2e9")]
    [InlineData("1e20")]
    public void Degrees_of_freedom_that_no_result_has_are_refused(string dof)
    {
        int components = Document.IndexOf("\"components\"", Document.IndexOf("\"energyPerCharge\"", StringComparison.Ordinal),
            StringComparison.Ordinal);
        int at = Document.IndexOf("\"dof\":", components, StringComparison.Ordinal) + 6;
        string changed = Document[..at] + dof + Document[Document.IndexOfAny([',', '\n'], at)..];
        Assert.Throws<InputException>(() => BaselineReader.Read("b.json", Encoding.UTF8.GetBytes(changed)));
    }

    [Fact]
    public void A_member_of_the_wrong_kind_is_refused()
    {
        int perCharge = Document.IndexOf("\"energyPerCharge\"", StringComparison.Ordinal);
        int components = Document.IndexOf("\"components\"", perCharge, StringComparison.Ordinal);
        foreach (
            var (member, from) in new[] { ("excluded", 0), ("kind", 0), ("end", 0), ("title", 0), ("value", perCharge), ("unit", perCharge),
            ("owner", components), ("ownerName", components), ("kind", components), ("part", components), ("u", components),
            ("dof", components), ("shared", components), ("shape", components) })
        {
            int at = Document.IndexOf($"\"{member}\": ", from, StringComparison.Ordinal) + member.Length + 4;
            int end = Document.IndexOfAny([',', '\n'], at);
            string broken = Document[..at] + "{}" + Document[end..];
            Assert.Throws<InputException>(() => BaselineReader.Read("b.json", Encoding.UTF8.GetBytes(broken)));
        }
    }

    [Fact]
    public void A_missing_file_and_a_folder_are_named_so()
    {
        Assert.Equal(InputProblem.Missing, Assert.Throws<InputException>(() => BaselineReader.Load("no-such.json")).Problem);
        Assert.Contains("folder", Assert.Throws<InputException>(() => BaselineReader.Load(Path.GetTempPath())).Message,
            StringComparison.Ordinal);
    }

    private static void Same(Measured? a, Measured? b)
    {
        Assert.Equal((a?.Value, a?.Unit, a?.UnknownBecause), (b?.Value, b?.Unit, b?.UnknownBecause));
        Assert.Equal(
            a?.Components.Select(c =>
                (c.Source.Id, c.Source.DegreesOfFreedom, c.Source.Shared, c.Source.Shape, c.SignedStandardUncertainty)),
            b?.Components.Select(c =>
                (c.Source.Id, c.Source.DegreesOfFreedom, c.Source.Shared, c.Source.Shape, c.SignedStandardUncertainty)));
    }
}
