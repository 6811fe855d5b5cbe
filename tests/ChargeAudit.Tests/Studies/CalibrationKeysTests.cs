using ChargeAudit.Comparing.Auditing;
using ChargeAudit.Comparing.Results;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Calibration;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Studies;
using ChargeAudit.Tests.Reports.Json;

namespace ChargeAudit.Tests.Studies;

/// <summary>Calibrations in a study, from its keys to the results.</summary>
public sealed class CalibrationKeysTests
{
    private const string Stated = """
        [[meters.plug.calibration]]
        quantity = "power"
        model = "gain-and-offset"
        date = 2026-01-15
        points = [
          { reference = "5 W", reading = "5.1 W", u = "20 mW" },
          { reference = "10 W", reading = "10.2 W", u = "20 mW" },
        ]
        zero = { reading = "0.02 W", scatter = "10 mW", count = 25 }
        errors = "common"
        drift-per-year = "0.2 % + 1 mW"
        range = ["0 W", "15 W"]
        power-factor = [0.4, 1]
        """;

    [Fact]
    public void Points_zero_and_conditions_are_read()
    {
        var calibration = Assert.Single(Read(Stated).Meters["plug"].Calibrations);
        Assert.Equal((LogQuantity.Power, CorrectionModel.GainAndOffset), (calibration.Quantity, calibration.Model));
        Assert.Equal([new(5, 5.1, 0.02), new(10, 10.2, 0.02), new(0, 0.02, 0.002)], calibration.Points);
        Assert.Equal(new DateOnly(2026, 1, 15), calibration.Date);
        Assert.Equal(PointErrors.Common, calibration.Errors);
        Assert.Equal("0.2 % + 1 mW", calibration.DriftPerYear!.Text);
        Assert.Equal(((0, 15), (0.4, 1)), (calibration.Range, calibration.PowerFactor!.Value));
    }

    // Without a range it holds from zero where there is a zero reading, and a tenth beyond the largest point.
    [Fact]
    public void The_points_say_what_it_holds_for_where_no_range_does()
    {
        var (from, to) = Read(Without("range")).Meters["plug"].Calibrations[0].Range;
        Assert.Equal((0, 11.22), (from, to), (a, b) => Math.Abs(a.Item1 - b.Item1) + Math.Abs(a.Item2 - b.Item2) < 1e-9);
    }

    [Theory]
    [InlineData("quantity = \"power\"", "", "has no \"quantity\"; add it, for example quantity = \"power\"")]
    [InlineData("model = \"gain-and-offset\"", "", "has no \"model\"; add model = \"gain-and-offset\"")]
    [InlineData("model = \"gain-and-offset\"", "model = \"spline\"", "it must be one of offset, gain, gain-and-offset, interpolation")]
    [InlineData("model = \"gain-and-offset\"", "model = \"gain\"", "says nothing about a gain")]
    [InlineData("reading = \"5.1 W\", ", "", "has no \"reading\"; add it, for example reading = \"5.00 W\"")]
    [InlineData("\"5.1 W\"", "\"5.1 V\"", "a value with its unit was expected")]
    [InlineData(", u = \"20 mW\" },\n  { reference = \"10", " },\n  { reference = \"10", "some of its points have a standard uncertainty")]
    [InlineData("scatter = \"10 mW\", ", "", "needs either file = \"zero.csv\", or a reading with the standard deviation")]
    [InlineData("date = 2026-01-15", "date = \"January\"", "a day such as 2026-01-15 was expected")]
    [InlineData("[\"0 W\", \"15 W\"]", "[\"15 W\", \"0 W\"]", "needs its lower and its upper end")]
    [InlineData("[0.4, 1]", "[1, 0.4]", "needs the lower and the upper end that the calibration holds for")]
    [InlineData("\"0.2 % + 1 mW\"", "\"a little\"", "meters.plug.calibration[1].drift-per-year: the accuracy 'a little'")]
    [InlineData("errors", "error", "has an unknown key \"error\"; did you mean \"errors\"?")]
    public void What_cannot_be_is_refused_with_its_line(string written, string instead, string expected)
    {
        int at = Stated.IndexOf(written, StringComparison.Ordinal);
        Assert.True(at >= 0, written);
        var e = Assert.Throws<InputException>(() => Read(Stated[..at] + instead + Stated[(at + written.Length)..]));
        Assert.Matches("study.toml, line [0-9]+: ", e.Message);
        Assert.Contains(expected, e.Message, StringComparison.Ordinal);
    }

    // Two hours of 10.2 W as read, after which the full device takes 0.52 W; with nothing connected the meter shows 20 mW. The points say
    // that 10.2 W are 10 W: 20 Wh. A pad that reads 15.3 W is 15 W.
    [Fact]
    public void An_audit_shows_what_was_read_and_what_was_added()
    {
        string folder = Directory.CreateTempSubdirectory("chargeaudit-calibrated-").FullName;
        try
        {
            void Log(string name, Func<int, double> power, int rows) => File.WriteAllLines(Path.Combine(folder, name),
                Enumerable.Range(0, rows).Select(i => InvariantText.Of($"{10 * i},{power(i):F3}")).Prepend("time_s,power_W"));
            Log("cable.csv", i => i is >= 60 and < 780 ? 10.22 : i < 60 ? 0.02 : 0.53, 1500);
            Log("pad.csv", i => i is >= 60 and < 780 ? 15.32 : i < 60 ? 0.02 : 0.53, 1500);
            Log("zero.csv", _ => 0.02, 300);
            string study = Path.Combine(folder, "study.toml");
            File.WriteAllText(study, """
                [methods.cable]
                kind = "wired"
                [methods.pad]
                kind = "inductive"
                [meters.plug]
                samples = "average-starting"
                [[meters.plug.calibration]]
                quantity = "power"
                model = "gain-and-offset"
                date = 2026-01-15
                points = [
                  { reference = "5 W", reading = "5.12 W", u = "20 mW" },
                  { reference = "15 W", reading = "15.32 W", u = "20 mW" },
                ]
                zero = { file = "zero.csv" }
                [[runs]]
                method = "cable"
                logs = { wall = { file = "cable.csv", meter = "plug" } }
                [[runs]]
                method = "pad"
                logs = { wall = { file = "pad.csv", meter = "plug" } }
                """);
            var audit = Auditor.Run(StudyReader.Load(study),
                new AuditOptions { ProgramVersion = "", CommandLine = "", StudyFile = study, Clock = TimeProvider.System },
                TestContext.Current.CancellationToken);
            var cable = audit.Corrections.Single(c => c is { Method: "cable", Figure: CorrectedFigure.EnergyPerCharge });
            Assert.Equal(20.44, cable.AsRead, 0.03);
            Assert.Equal(-0.44, cable.Correction, 0.005);
            var energy = audit.Methods[0].Points.Values.Single().EnergyPerCharge.Value!;
            Assert.Equal(20, energy.Value, 0.03);
            Assert.Null(energy.UnknownBecause);
            Assert.Contains(audit.Corrections, c => c is { Method: "pad", Figure: CorrectedFigure.MaintenancePower }
                && Math.Abs(c.Correction + 0.03) < 0.002);
            Assert.Contains("zero.csv", audit.Logs.SelectMany(l => l.Files));

            // One meter for both: the error of its calibration cancels but for the offset.
            var ratio = Assert.Single(audit.Comparisons).OverheadRatio.Value!;
            Assert.Equal(1.5, ratio.Value, 0.002);
            double relative = energy.StandardUncertainty!.Value / energy.Value;
            Assert.True(ratio.Components.Where(c => c.Source.Kind == ChargeAudit.Metrology.Uncertainty.SourceKind.Calibration)
                .Sum(c => c.SignedStandardUncertainty * c.SignedStandardUncertainty) < Math.Pow(1.5 * relative, 2));
            string json = ChargeAudit.Reports.Json.ResultsJson.Audit(audit);
            Assert.Empty(ResultsSchema.Problems(json));
            Assert.Contains("\"corrections\"", json, StringComparison.Ordinal);
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    private static string Without(string key) =>
        string.Join('\n', Stated.Split('\n').Where(l => !l.StartsWith(key, StringComparison.Ordinal)));

    private static Study Read(string calibration) => StudyReader.Read("study.toml", $$"""
        [methods.cable]
        kind = "wired"
        [meters.plug]
        point = "wall"
        {{calibration.Replace("\n", "\n        ", StringComparison.Ordinal)}}
        [[runs]]
        method = "cable"
        logs = { wall = { file = "c1.csv", meter = "plug" } }
        """, "here");
}
