using System.Globalization;
using System.Text;
using ChargeAudit.Comparing.Procedures;
using ChargeAudit.Logs;
using ChargeAudit.Measuring;
using ChargeAudit.Metrology;
using ChargeAudit.Studies;
using ChargeAudit.Tests.Measuring;

namespace ChargeAudit.Tests.Comparing.Procedures;

public sealed class UsAppendixYFromLogsTests : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("appendix-y-").FullName;

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    /// <summary>Writes and measures a log of interval averages, one a minute.</summary>
    private MeasuredLog Measure(string name, params (int Minutes, double PowerW)[] parts)
    {
        var text = new StringBuilder("Elapsed (s),Power (W)\n");
        int minute = 0;
        foreach (var (minutes, power) in parts)
        {
            for (int i = 0; i < minutes; i++)
            {
                minute++;
                text.Append(CultureInfo.InvariantCulture, $"{minute * 60},{power:0.000}\n");
            }
        }

        string path = Path.Combine(_folder, name);
        File.WriteAllText(path, text.ToString());
        var meter = new Meter
        {
            Name = "plug",
            Options = new LogOptions { Samples = SampleKind.AverageEnding },
            Accuracy = DataSheet.Of((LogQuantity.Power, "1 % + 0.01 W")),
        };
        return LogMeasurer.Measure(new MeasureRequest { Paths = [path], Meter = meter, Point = MeasuringPoint.Wall });
    }

    [Fact]
    public void A_day_of_logs_gives_the_procedures_figures_with_the_meters_uncertainty()
    {
        // 150 min at 6.4 W, then 0.5 W to the end of 24 h: 16 + 21.5 · 0.5 = 26.75 Wh; waiting 0.25 W.
        var charge = Measure("day.csv", (150, 6.4), (1290, 0.5));
        var waiting = Measure("waiting.csv", (60, 0.25));
        var device = new DeviceInfo { BatteryDischargeWh = 11.0, BatteryV = 3.85 };
        var result = UsAppendixY.Of(UsAppendixYInput.From(new Method("pad", MethodKind.Inductive), device, charge, 9000, waiting));

        // Tolerance: the charge is taken to start where power was first seen, within a minute of 6.4 W, 0.11 Wh.
        Assert.Equal(26.75, result.Test.E24.Value!.Value, 0.11);
        Assert.Equal(0.5, result.Test.MaintenancePower.Value!.Value, 1e-3);
        Assert.Equal(0.25, result.NoBatteryPower.Value!.Value, 1e-3);

        // Equation (ii) written out again with what was found.
        double e24 = result.Test.E24.Value.Value;
        double expected = 0.365 * ((0.54 * (e24 - (5 * 0.5) - 11.0) * 24 / 19) + (5.29 * 0.25));
        Assert.Equal(expected, result.Uec.Value!.Value, 2e-3);
        Assert.True(result.Test.E24.Value.StandardUncertainty > 0);
        Assert.Equal(ConditionState.Met, result.Checks.Single(c => c.Id == "logging-interval").State);
        Assert.Equal(ConditionState.Met, result.Checks.Single(c => c.Id == "test-duration").State);
        Assert.Equal(ProcedureVerdict.OutsideScope, result.Verdict);
        Assert.Null(result.AppendixY1.ActiveChargeEnergy.Value);
    }

    [Fact]
    public void A_charge_of_three_hours_is_not_the_procedures_test()
    {
        var charge = Measure("short.csv", (150, 6.4), (30, 0.5));
        var result =
            UsAppendixY.Of(UsAppendixYInput.From(new Method("cable", MethodKind.Wired),
            new DeviceInfo { BatteryDischargeWh = 11.0, BatteryV = 3.85 }, charge, null, null));
        Assert.Contains("of the 24 h", result.Uec.WhyNot, StringComparison.Ordinal);
        Assert.Equal(ProcedureVerdict.NotMet, result.Verdict);
    }
}
