using System.Globalization;
using System.Text;
using ChargeAudit.Comparing.Auditing;
using ChargeAudit.Comparing.Runs;
using ChargeAudit.Logs;
using ChargeAudit.Metrology.Uncertainty;
using ChargeAudit.Studies;

namespace ChargeAudit.Tests.Comparing.Auditing;

/// <summary>What a file or a run is called says nothing about its errors.</summary>
public sealed class NamesOfLogsTests
{
    [Theory]
    [InlineData("counter-pad.csv", "pad-1")]
    [InlineData("sampling-gap.csv", "end-rule-gain")]
    [InlineData("a-noise.csv", "meter-offset")]
    public void A_name_changes_no_advice_and_no_component(string file, string run)
    {
        var (plain, named) = (Audit("charge.csv", "waiting.csv", "one"), Audit(file, "w-" + file, run));
        foreach (var of in new Func<PointResult, Measured>[]
        {
            p => p.NoLoadPower.Value!,
            p => p.EnergyPerCharge.Value!,
            p => p.MaintenancePower.Value!,
        })
        {
            Assert.Equal(Told(of(plain)), Told(of(named)));
            Assert.Equal(Budget.Of(of(plain)).Advice, Budget.Of(of(named)).Advice);
            Assert.NotNull(Budget.Of(of(named)).Advice);
        }
    }

    private static (SourceOwner Owner, SourceKind Kind, double U)[] Told(Measured figure) =>
        [.. figure.Components.Select(c => (c.Source.Owner, c.Source.Kind, c.SignedStandardUncertainty)).Order()];

    private static PointResult Audit(string charge, string waiting, string run)
    {
        string folder = Path.Combine(Path.GetTempPath(), $"chargeaudit-names-{Guid.NewGuid():N}");
        Directory.CreateDirectory(folder);
        try
        {
            // A charge of an hour at 8 W and five hours full at 0.4 W; two hours of waiting at 0.2 W with a ripple.
            File.WriteAllText(Path.Combine(folder, charge),
                Log(6 * 360, i => i is < 6 or > 2150 ? 0.05 : i < 366 ? 8 + (0.02 * (i % 7)) : 0.4 + (0.004 * (i % 5))));
            File.WriteAllText(Path.Combine(folder, waiting), Log(720, i => 0.2 + (0.003 * (i % 3))));
            string study = Path.Combine(folder, "study.toml");
            File.WriteAllText(study, $$"""
                reference = "pad"
                [meters.plug]
                point = "wall"
                samples = "instantaneous"
                accuracy = { power = "0.01 %", energy = "0.01 %" }
                [methods.pad]
                kind = "inductive"
                [[runs]]
                id = "{{run}}"
                method = "pad"
                logs = { wall = { file = "{{charge}}", meter = "plug" } }
                [[standby]]
                method = "pad"
                logs = { wall = { file = "{{waiting}}", meter = "plug" } }
                """);
            return Auditor.Run(StudyReader.Load(study), new AuditOptions
            {
                ProgramVersion = "",
                CommandLine = "",
                StudyFile = study,
                Clock = TimeProvider.System,
            })
                .Methods[0].Points[MeasuringPoint.Wall];
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    private static string Log(int rows, Func<int, double> powerW)
    {
        var text = new StringBuilder("time_s,power_w\n");
        for (int i = 0; i < rows; i++)
        {
            text.AppendLine(CultureInfo.InvariantCulture, $"{10 * i},{powerW(i):F4}");
        }

        return text.ToString();
    }
}
