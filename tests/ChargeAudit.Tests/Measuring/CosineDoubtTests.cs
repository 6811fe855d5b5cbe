using ChargeAudit.Logs;
using ChargeAudit.Measuring;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;

namespace ChargeAudit.Tests.Measuring;

/// <summary>A power factor that its header calls a cosine may be the displacement factor, which leaves distortion out.</summary>
public sealed class CosineDoubtTests : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory().FullName;

    private static Meter Meter => new()
    {
        Name = "plug",
        Accuracy = DataSheet.Of((LogQuantity.Voltage, "1 %"), (LogQuantity.Current, "1 %"), (LogQuantity.PowerFactor, "0.02"),
            (LogQuantity.ApparentPower, "1 %"), (LogQuantity.Power, "1 %"), (LogQuantity.Energy, "1 %")),
    };

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    // One hour at 230 V, 0.1 A and 0.5: 11.5 Wh by hand; 22.1375 VA at 0.5: 11.06875 Wh.
    [Theory]
    [InlineData("U (V)", "I (A)", "cos φ", true, 11.5)]
    [InlineData("U (V)", "I (A)", "cosφ", true, 11.5)]
    [InlineData("U (V)", "I (A)", "cos(phi)", true, 11.5)]
    [InlineData("U (V)", "I (A)", "Cos_Phi", true, 11.5)]
    [InlineData("U (V)", "I (A)", "power factor (cos φ)", true, 11.5)]
    [InlineData("U (V)", "I (A)", "power factor", false, 11.5)]
    [InlineData("U (V)", "I (A)", "true power factor", false, 11.5)]
    [InlineData("U (V)", "I (A)", "PF", false, 11.5)]
    [InlineData("U (V)", "I (A)", "λ", false, 11.5)]
    public void A_header_that_says_cosine_brings_a_doubt_no_interval_and_a_refusal_under_strict(string first, string second, string third,
        bool doubted, double energyWh)
    {
        string log = Log($"time (s),{first},{second},{third}", "230.0,0.1,0.5");
        var found = Measure(log);
        Assert.Equal(energyWh, found.Energy.Value, 1e-9);
        Assert.Equal(doubted, found.Energy.Interval() is null);
        Assert.Equal(doubted, found.Doubts.Any(d => d.Text.Contains("leaves distortion out", StringComparison.Ordinal)));
        if (doubted)
        {
            var refusal = Assert.Throws<InputException>(() => Measure(log, strict: true));
            Assert.Contains(third, refusal.Message, StringComparison.Ordinal);
            Assert.Equal(InputProblem.Unusable, refusal.Problem);
        }
        else
        {
            Assert.Equal(energyWh, Measure(log, strict: true).Energy.Value, 1e-9);
        }
    }

    [Fact]
    public void The_same_holds_for_apparent_power_times_a_cosine()
    {
        string log = Log("time (s),apparent power (VA),cos φ", "22.1375,0.5");
        Assert.Equal(11.06875, Measure(log).Energy.Value, 1e-9);
        Assert.Null(Measure(log).Energy.Interval());
        Assert.Throws<InputException>(() => Measure(log, strict: true));
    }

    [Fact]
    public void A_study_that_names_the_column_as_the_power_factor_is_believed()
    {
        string log = Log("time (s),U (V),I (A),cos φ", "230.0,0.1,0.5");
        var meter = Meter with
        {
            Options = new LogOptions
            {
                Columns = new Dictionary<LogQuantity, ColumnChoice> { [LogQuantity.PowerFactor] = new("cos φ", null, null) },
            },
        };
        var found = Measure(log, meter, strict: true);
        Assert.NotNull(found.Energy.Interval());
        Assert.DoesNotContain(found.Doubts, d => d.Text.Contains("distortion", StringComparison.Ordinal));
    }

    [Fact]
    public void Real_power_beside_a_cosine_needs_no_doubt()
    {
        string log = Log("time (s),P (W),U (V),I (A),cos φ", "11.5,230.0,0.1,0.95");
        Assert.Equal(11.5, Measure(log, strict: true).Energy.Value, 1e-9);
        Assert.DoesNotContain(Measure(log).Doubts, d => d.Text.Contains("cosine", StringComparison.Ordinal));
    }

    [Fact]
    public void A_counter_goes_before_a_cosine_and_a_power_factor_before_both_names()
    {
        // The counter runs at 12 W; the product would give 21.85 W.
        string counted = Path.Combine(_folder, "counter.csv");
        File.WriteAllLines(counted,
            ["time (s),U (V),I (A),cos φ,energy (Wh)", .. Enumerable.Range(0, 361)
            .Select(i => InvariantText.Of($"{10 * i},230.0,0.1,0.95,{12.0 * i / 360:F4}"))]);
        var found = Measure(counted);
        Assert.Equal(12.0, found.Energy.Value, 1e-3);
        Assert.Contains(found.Doubts, d => d.Text.StartsWith("The energy counter was taken", StringComparison.Ordinal));

        var both = Measure(Log("time (s),U (V),I (A),cos φ,power factor", "230.0,0.1,0.95,0.5"), strict: true);
        Assert.Equal(11.5, both.Energy.Value, 1e-9);
    }

    [Theory]
    [InlineData("displacement power factor")]
    [InlineData("fundamental power factor")]
    public void A_displacement_factor_by_its_name_is_no_power_factor(string header) =>
        Assert.Contains("apparent power",
            Assert.Throws<InputException>(() => Measure(Log($"time (s),U (V),I (A),{header}", "230.0,0.1,0.95"))).Message,
            StringComparison.Ordinal);

    private static ChargeAudit.Measuring.LogMeasurement Measure(string log, Meter? meter = null, bool strict = false) =>
        LogMeasurer.Measure(new MeasureRequest { Paths = [log], Meter = meter ?? Meter, Point = MeasuringPoint.Wall, Strict = strict },
            null, TestContext.Current.CancellationToken).Result;

    private string Log(string header, string readings)
    {
        string file = Path.Combine(_folder, "log.csv");
        File.WriteAllLines(file, [header, .. Enumerable.Range(0, 361).Select(i => InvariantText.Of($"{10 * i},{readings}"))]);
        return file;
    }
}
