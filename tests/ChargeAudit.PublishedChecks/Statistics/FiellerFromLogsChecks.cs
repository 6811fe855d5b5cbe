using System.Globalization;
using System.Text;
using ChargeAudit.Comparing.Auditing;
using ChargeAudit.Studies;

namespace ChargeAudit.PublishedChecks.Statistics;

/// <summary>
/// The charging data of <see cref="FiellerChecks"/> as logs, audited as a user would: the reader, ModeFinder, EnergyEstimator,
/// Repeatability, RatioOfMeans and <see cref="Auditor"/> between them must give Fieller's interval back. Each charge is a power with a
/// small ripple for a whole number of rows with nothing before and after, so its energy is the mean power times the time.
/// </summary>
public sealed class FiellerFromLogsChecks
{
    private const int IntervalS = 10;
    private static readonly double[] CableWh = [13.18, 13.25, 13.21, 13.30, 13.16];
    private static readonly double[] PadWh = [19.65, 19.92, 19.80, 20.05, 19.71];

    [Fact]
    public void The_overhead_of_ten_logs()
    {
        string folder = Directory.CreateTempSubdirectory("chargeaudit-fieller-").FullName;
        try
        {
            var study = new StringBuilder("""
                reference = "cable"
                [meters.bench]
                point = "usb"
                samples = "average-ending"
                accuracy = { power = "0.0001 %" }
                [methods.cable]
                kind = "wired"
                [methods.pad]
                kind = "inductive"

                """);
            Add(study, folder, "cable", CableWh, 600);
            Add(study, folder, "pad", PadWh, 900);
            string file = Path.Combine(folder, "study.toml");
            File.WriteAllText(file, study.ToString());
            var audit = Auditor.Run(StudyReader.Load(file), new AuditOptions { StudyFile = file }, TestContext.Current.CancellationToken);
            var ratio = audit.Comparisons.Single(c => c.Method == "pad").OverheadRatio.Value!;

            // A border may lie a third of a row off: one row in 1800 of the cable's energy.
            Assert.Equal(1.499697428, ratio.Value, 1.5 / 1800);
            Assert.Equal(1.484683, ratio.Interval()!.Value.Low, 1.5 / 1800);
            Assert.Equal(1.514776, ratio.Interval()!.Value.High, 1.5 / 1800);
        }
        finally
        {
            Directory.Delete(folder, true);
        }
    }

    private static void Add(StringBuilder study, string folder, string method, double[] energiesWh, int rows)
    {
        for (int run = 0; run < energiesWh.Length; run++)
        {
            string file = $"{method}-{run + 1}.csv";
            double powerW = energiesWh[run] * 3600 / (rows * IntervalS);
            var log = new StringBuilder("time_s,power_w\n");
            for (int i = 0; i < rows + 120; i++)
            {
                // A ripple of ten rows whose mean is zero.
                double rippled = powerW * (1 + (0.002 * ((i % 10) - 4.5)));
                log.AppendLine(CultureInfo.InvariantCulture, $"{i * IntervalS},{(i >= 60 && i < rows + 60 ? rippled : 0):F6}");
            }

            File.WriteAllText(Path.Combine(folder, file), log.ToString());
            study.AppendLine(CultureInfo.InvariantCulture, $$"""
                [[runs]]
                method = "{{method}}"
                logs = { usb = { file = "{{file}}", meter = "bench" } }
                """);
        }
    }
}
