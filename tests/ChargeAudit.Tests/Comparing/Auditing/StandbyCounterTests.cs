using System.Globalization;
using System.Text;
using ChargeAudit.Comparing.Auditing;
using ChargeAudit.Comparing.Runs;
using ChargeAudit.Logs;
using ChargeAudit.Studies;
using ChargeAudit.Tests.Measuring.Segmentation.Truth;

namespace ChargeAudit.Tests.Comparing.Auditing;

/// <summary>A waiting pad whose meter shows power and an energy counter, audited: which of the two is taken, and why.</summary>
public sealed class StandbyCounterTests
{
    /// <summary>A pulse of 3 W and 50 ms every 1.1 s on 0.2 W: 0.2 + 3 · 0.05/1.1 W.</summary>
    private const double PulsedW = 0.2 + (3 * 0.05 / 1.1);

    [Fact]
    public void A_counter_is_taken_where_slow_readings_miss_the_pulses()
    {
        // Read every 10 s, an instant hits a pulse of 50 ms in about one reading of 22; the counter runs in steps of 1 mWh.
        var wall = Audit(2 * 3600, 10, pulseW: 3, counterStepWh: 0.001, accuracy: "power = \"1 % + 5 mW\", energy = \"1 % + 1 mWh\"");
        string notes = string.Join('\n', wall.StandbyNotes);
        Assert.Contains("accumulated-energy method of IEC 62301", notes, StringComparison.Ordinal);
        Assert.Contains("The counter was taken: ", notes, StringComparison.Ordinal);
        Assert.Contains("stable by its test", notes, StringComparison.Ordinal);

        // Steps of 1 mWh at both ends of 5400 s: 3.6 J/√6/5400 s = 0.27 mW; the accuracy of 1 mWh on top.
        var power = wall.NoLoadPower.Value!;
        Assert.InRange(power.Value, PulsedW - 0.002, PulsedW + 0.002);
        var step = Assert.Single(power.Components, c => c.Source.Id.EndsWith("stand-by-counter-step", StringComparison.Ordinal));
        Assert.Equal(3.6 / Math.Sqrt(6) / 5400, step.SignedStandardUncertainty, 0.02e-3);

        // The counter adds up what the same meter measures, with the 5 mW that it may be off by.
        var offset = Assert.Single(power.Components, c => c.Source.Id == "meter:plug/power-offset");
        Assert.Equal(0.005 / Math.Sqrt(3), offset.SignedStandardUncertainty, 1e-6);
    }

    [Fact]
    public void Readings_are_taken_where_they_carry_the_load_and_the_counter_is_coarse()
    {
        var wall = Audit(2 * 3600, 1, pulseW: 0, counterStepWh: 0.1, accuracy: "power = \"0.2 % + 1 mW\", energy = \"1 % + 100 mWh\"");
        string notes = string.Join('\n', wall.StandbyNotes);
        Assert.Contains("The sampling method of IEC 62301", notes, StringComparison.Ordinal);
        Assert.Contains("The readings were taken: their standard uncertainty is", notes, StringComparison.Ordinal);
        Assert.InRange(wall.NoLoadPower.Value!.Value, 0.1995, 0.2005);
    }

    [Fact]
    public void A_finer_counter_is_taken_though_there_are_no_pulses()
    {
        var wall = Audit(2 * 3600, 1, pulseW: 0, counterStepWh: 0.0001, accuracy: "power = \"1 % + 50 mW\", energy = \"0.5 % + 0.1 mWh\"");
        Assert.Contains("The counter was taken: its standard uncertainty is", string.Join('\n', wall.StandbyNotes),
            StringComparison.Ordinal);
    }

    [Fact]
    public void A_counter_that_stands_still_below_its_starting_power_is_not_taken()
    {
        var wall = Audit(2 * 3600, 10, pulseW: 3, counterStepWh: 0.001, accuracy: "power = \"1 % + 5 mW\", energy = \"1 % + 1 mWh\"",
            counts: false);
        Assert.Contains("the counter hardly moved", string.Join('\n', wall.StandbyNotes), StringComparison.Ordinal);
        Assert.True(wall.NoLoadPower.Value!.Value > 0.1);
    }

    private static PointResult Audit(double lengthS, double intervalS, double pulseW, double counterStepWh, string accuracy,
        bool counts = true)
    {
        string folder = Path.Combine(Path.GetTempPath(), $"chargeaudit-counter-{Guid.NewGuid():N}");
        Directory.CreateDirectory(folder);
        try
        {
            File.WriteAllText(Path.Combine(folder, "waiting.csv"), Waiting(lengthS, intervalS, pulseW, counterStepWh, counts));
            File.WriteAllText(Path.Combine(folder, "cable.csv"), Charge());
            string study = Path.Combine(folder, "study.toml");
            File.WriteAllText(study, $$"""
                reference = "cable"
                [meters.plug]
                point = "wall"
                samples = "instantaneous"
                accuracy = { {{accuracy}} }
                [methods.cable]
                kind = "wired"
                [methods.pad]
                kind = "inductive"
                [[runs]]
                method = "cable"
                logs = { wall = { file = "cable.csv", meter = "plug" } }
                [[standby]]
                method = "pad"
                logs = { wall = { file = "waiting.csv", meter = "plug" } }
                """);
            var audit = Auditor.Run(StudyReader.Load(study), new AuditOptions
            {
                ProgramVersion = "",
                CommandLine = "",
                StudyFile = study,
                Clock = TimeProvider.System,
            });
            return audit.Methods.Single(m => m.Name == "pad").Points[MeasuringPoint.Wall];
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    private static string Waiting(double lengthS, double intervalS, double pulseW, double counterStepWh, bool counts)
    {
        const double EveryS = 1.1;
        const double PulseS = 0.05;
        var random = new TruthRandom(7);
        var text = new StringBuilder("Time (s),Power (W),Energy (Wh)\n");
        for (double t = 0; t <= lengthS; t += intervalS)
        {
            double power = 0.2 + (t % EveryS < PulseS ? pulseW : 0) + (0.001 * random.Gauss());
            double whole = Math.Floor(t / EveryS);
            double pulsedJ = pulseW * PulseS * (whole + Math.Min(1, (t - (whole * EveryS)) / PulseS));
            double countedWh = counts ? Math.Floor(((0.2 * t) + pulsedJ) / 3600 / counterStepWh) * counterStepWh : 0;
            text.Append(CultureInfo.InvariantCulture, $"{t:F1},{power:F4},{countedWh:F4}\n");
        }

        return text.ToString();
    }

    private static string Charge()
    {
        var text = new StringBuilder("Time (s),Power (W)\n");
        for (int t = 0; t < 3600; t += 2)
        {
            double power = t < 2000 ? 10 : t < 3000 ? (9.6 * Math.Exp(-(t - 2000) / 400.0)) + 0.4 : 0.3;
            text.Append(CultureInfo.InvariantCulture, $"{t},{power:F4}\n");
        }

        return text.ToString();
    }
}
