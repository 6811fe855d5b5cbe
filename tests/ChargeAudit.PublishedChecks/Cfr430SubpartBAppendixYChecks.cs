using ChargeAudit.Comparing.Procedures;
using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.PublishedChecks;

/// <summary>
/// 10 CFR part 430, subpart B, appendix Y: uniform test method for measuring the energy consumption of battery chargers (81 FR 31842, 20
/// May 2016, as amended to 90 FR 6791, 21 January 2025). Equations (i) and (ii) and table 3.3.3 as printed by a secondary source; rows 6
/// and 7 of the table are from memory; the limits of 10 CFR 430.32(z) were read on 2026-11-26. No worked example was found in print: the
/// five cases were worked out from the equations apart from this program, in double precision with another language.
/// </summary>
public class Cfr430SubpartBAppendixYChecks
{
    // Tolerance: half a unit of the last digit that the case was noted with (9 decimals; 6 for class 1, 5 for class 3).
    [Theory]
    [InlineData("cable A", 2, 18.0, 0.20, 0.03, 11.0, 24, "Two", 4.251331579, 1.551736026, 5e-10)]
    [InlineData("pad B", 2, 26.0, 0.60, 0.25, 11.0, 24, "Two", 9.507763158, 3.470333553, 5e-10)]
    [InlineData("long", 2, 30.0, 0.30, 0.10, 11.0, 34, "Two", 8.349689655, 3.047636724, 5e-10)]
    [InlineData("class 1", 1, 12.0, 0.40, 0.35, 2.0, 24, "One", 8.359, 3.051035, 5e-7)]
    [InlineData("class 3", 3, 60.0, 0.30, 0.10, 40.0, 24, "One", 3.236, 1.18114, 5e-6)]
    public void Unit_energy_consumption_by_equations_i_and_ii(
        string name, int number, double e24, double pm, double psb, double ebatt, double tcd, string equation, double perDay,
            double perYear, double tolerance)
    {
        Assert.NotEmpty(name);
        var uec = UnitEnergyConsumption.Of(
            UsageClass.Of(number), Exact(e24, "Wh"), Exact(pm, "W"), Exact(psb, "W"), Exact(0, "W"), Exact(ebatt, "Wh"), tcd);
        Assert.Equal(equation, uec.Equation.ToString());
        Assert.Equal(perDay, uec.WhPerDay.Value, tolerance);
        Assert.Equal(perYear, uec.KwhPerYear.Value, tolerance);
    }

    [Fact]
    public void The_branch_changes_above_t_a_and_m_by_n_plus_five_hours()
    {
        // Section on UEC: "(tcd − 5)·n > ta&m": class 2: 5 + 7.82 / 0.54 = 19.481481 h.
        var usage = UsageClass.Of(2);
        Assert.Equal(UecEquation.One, UnitEnergyConsumption.EquationFor(usage, 19.481481));
        Assert.Equal(UecEquation.Two, UnitEnergyConsumption.EquationFor(usage, 19.481482));
    }

    // Table 3.3.3: threshold charge time = ta&m / n; the printed thresholds have two decimals. Day totals: the rest of the day it is
    // unplugged.
    [Theory]
    [InlineData(1, 137.73, 20.76)]
    [InlineData(2, 14.48, 13.11)]
    [InlineData(3, 64.20, 6.72)]
    [InlineData(4, 33.68, 17.75)]
    [InlineData(5, 59.27, 7.68)]
    [InlineData(6, 50.44, 24.00)] // from memory
    [InlineData(7, 25.44, 15.44)] // from memory
    public void Table_3_3_3_thresholds_and_day_totals(int number, double threshold, double dayTotal)
    {
        var usage = UsageClass.Of(number);
        Assert.Equal(threshold, usage.ThresholdH, 0.0051);
        Assert.Equal(dayTotal, usage.ActiveMaintenanceH + usage.StandbyH + usage.OffH, 1e-9);
        Assert.Equal(number >= 6 ? SourceMark.Memory : SourceMark.Read, usage.Mark);
    }

    // 10 CFR 430.32(z), read on 2026-11-26: the limits that go with the five cases, to the digits they were noted with.
    [Theory]
    [InlineData(1, 2.0, 3.04, 5e-10)]
    [InlineData(2, 11.0, 4.534, 5e-10)]
    [InlineData(3, 40.0, 2.18, 5e-10)]
    [InlineData(3, 9.999, 1.42, 5e-10)]
    public void Limits_of_430_32_z_with_the_day_on_which_they_were_read(int number, double batteryWh, double limit, double tolerance)
    {
        var yardstick = Yardsticks.At($"us-430-32-z/class-{number}", batteryWh)!;
        Assert.Equal(limit, yardstick.LimitAt(batteryWh)!.Value, tolerance);
        Assert.Equal(SourceMark.Read, yardstick.Mark);
        Assert.EndsWith("last read 2026-11-26", yardstick.SourceLine(), StringComparison.Ordinal);
    }

    private static Measured Exact(double value, string unit) => Measured.Exact(value, unit);
}
