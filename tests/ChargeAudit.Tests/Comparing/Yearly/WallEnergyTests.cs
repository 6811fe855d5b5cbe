using ChargeAudit.Comparing.Runs;
using ChargeAudit.Comparing.Yearly;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Metrology.Uncertainty;
using ChargeAudit.Studies;

namespace ChargeAudit.Tests.Comparing.Yearly;

public class WallEnergyTests
{
    private static readonly AdapterInfo Info = new(80, 4, 0.05, 0.02);

    private static PointResult Usb => new(
        Figure.Of(YearCases.With(16.0, "Wh", ("meter:u/gain", 0.08))),
        [15.9, 16.1],
        2 * 3600,
        Figure.Of(YearCases.With(0.40, "W", ("meter:u/gain", 0.002))),
        Figure.None("nobody logged it"));

    [Fact]
    public void A_charge_at_the_wall_is_the_usb_side_by_the_efficiency_with_both_uncertainties_and_marked()
    {
        var wall = WallEnergy.FromUsb(Usb, Adapter.Of(Info)!, MethodKind.Inductive);
        var energy = wall.EnergyPerCharge;
        Assert.Equal(20.0, energy.Value!.Value, 12);
        // u² = (0.08 / 0.8)² + (16 / 0.8² × 0.04 / √3)².
        Assert.Equal(Math.Sqrt((0.1 * 0.1) + Math.Pow(25 * 0.04 / Math.Sqrt(3), 2)), energy.Value.StandardUncertainty!.Value, 12);
        Assert.Contains("80 % that was given and not measured", energy.Assumed, StringComparison.Ordinal);
        Assert.Equal([15.9 / 0.8, 16.1 / 0.8], wall.RunEnergiesWh);
    }

    [Fact]
    public void A_light_load_has_the_no_load_power_and_the_slope_that_the_charge_fixes()
    {
        // The charge: 8 W out, 10 W in, of which 0.05 W no-load: slope 9.95 / 8. At 0.4 W: 0.05 + 0.4 × 1.24375 = 0.5475 W.
        var wall = WallEnergy.FromUsb(Usb, Adapter.Of(Info)!, MethodKind.Inductive);
        Assert.Equal(0.5475, wall.MaintenancePower.Value!.Value, 12);
        Assert.Equal("nobody logged it", wall.NoLoadPower.WhyNot);

        // The uncertainty agrees with differences of the same formula, written out again here.
        static double Model(double e, double w, double eta, double p0) => p0 + (w * ((1 / eta) - (p0 / (e / 2))));
        double gain = Model(16.08, 0.402, 0.8, 0.05) - Model(16, 0.4, 0.8, 0.05);
        double eta = (Model(16, 0.4, 0.8 + 1e-6, 0.05) - Model(16, 0.4, 0.8, 0.05)) / 1e-6 * 0.04 / Math.Sqrt(3);
        double noLoad = (Model(16, 0.4, 0.8, 0.051) - Model(16, 0.4, 0.8, 0.05)) / 1e-3 * 0.02 / Math.Sqrt(3);
        Assert.Equal(Math.Sqrt((gain * gain) + (eta * eta) + (noLoad * noLoad)), wall.MaintenancePower.Value.StandardUncertainty!.Value, 6);

        // A better adapter takes less: −w/η² = −0.4/0.64 = −0.625, times 0.04/√3. The sign tells what it cancels against in a year.
        Assert.Contains(
            wall.MaintenancePower.Value.Components,
            c => Math.Abs(c.SignedStandardUncertainty + (0.625 * 0.04 / Math.Sqrt(3))) < 1e-9);
    }

    [Fact]
    public void A_waiting_cable_leaves_the_adapter_alone()
    {
        var wall = WallEnergy.FromUsb(Usb, Adapter.Of(Info)!, MethodKind.Wired);
        Assert.Equal(0.05, wall.NoLoadPower.Value!.Value, 12);
        Assert.NotNull(wall.NoLoadPower.Assumed);
    }

    [Fact]
    public void Without_the_adapters_no_load_power_stand_by_is_not_told()
    {
        var wall = WallEnergy.FromUsb(Usb, Adapter.Of(Info with { NoLoadW = null })!, MethodKind.Inductive);
        Assert.NotNull(wall.EnergyPerCharge.Value);
        Assert.Contains("`no-load` under [adapter]", wall.MaintenancePower.WhyNot, StringComparison.Ordinal);
    }

    [Fact]
    public void The_mark_reaches_every_figure_of_the_year_that_rests_on_it()
    {
        var wall =
            WallEnergy.FromUsb(Usb with { NoLoadPower = Figure.Of(Measured.Exact(0.1, "W")) }, Adapter.Of(Info)!, MethodKind.Inductive);
        var year = YearlyEnergy.Of(YearInput.From(wall, UseProfile.Of(new Use()), PreparedTariff.Of(new Tariff("EUR", 0.3))) with
        {
            Draws = 0,
        });
        Figure[] figures =
        [
            year.Energy, year.Cost, year.ByMode[0].Energy, year.ByMode[0].Cost, year.ByMode[2].Energy, year.Detail!.StandbyShare,
                year.Detail.CostPerCharge,
            year.Detail.StandbyEnergy, year.Detail.Unplugging.Energy, year.Detail.EnergyPerUsualCharge,
                YearDifference.Of(year, year).Energy,
        ];
        Assert.All(figures, f => Assert.Contains("given and not measured", f.Assumed, StringComparison.Ordinal));
    }

    [Fact]
    public void A_fitted_adapter_says_that_it_was_fitted()
    {
        var wall = WallEnergy.FromUsb(Usb, Adapter.Fitted(YearCases.With(0.85, "1", ("fit", 0.01)), null), MethodKind.Inductive);
        Assert.Contains("85 % fitted from other logs", wall.EnergyPerCharge.Assumed, StringComparison.Ordinal);
    }

    [Fact]
    public void An_adapter_that_cannot_be_is_refused()
    {
        Assert.Contains("efficiency is 120", Assert.Throws<InputException>(() => Adapter.Of(Info with { EfficiencyPercent = 120 })).Message,
            StringComparison.Ordinal);
        var error =
            Assert.Throws<InputException>(() => WallEnergy.FromUsb(Usb, Adapter.Of(new AdapterInfo(99, 0, 1.0, 0))!, MethodKind.Wired));
        Assert.Contains("cannot go with an efficiency of 99 %", error.Message, StringComparison.Ordinal);
    }
}
