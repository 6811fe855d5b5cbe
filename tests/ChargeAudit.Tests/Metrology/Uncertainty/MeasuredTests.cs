using ChargeAudit.Metrology.Uncertainty;
using CsCheck;

namespace ChargeAudit.Tests.Metrology.Uncertainty;

public sealed class MeasuredTests
{
    private static readonly Gen<Measured> Figures = Gen.Select(
        Gen.Double[1, 100],
        Gen.Select(Gen.Int[0, 4], Gen.Double[-1, 1]).Array[0, 6]).Select(
        (value, parts) =>
            Measured.From(value, "Wh", parts.Select(p => new UncertaintyComponent(new InfluenceSource($"s{p.Item1}"), p.Item2))));

    // (2 ± 0.1) V by (3 ± 0.2) A: 6000 mW, and 1000·√((3·0.1)² + (2·0.2)²) = 500 mW.
    [Fact]
    public void A_product_in_another_unit_carries_both_uncertainties_into_it()
    {
        var volt = Measured.From(2, "V", [new UncertaintyComponent(new InfluenceSource("volt"), 0.1)]);
        var ampere = Measured.From(3, "A", [new UncertaintyComponent(new InfluenceSource("ampere"), 0.2)]);
        var power = Measured.Product(volt, ampere, "mW", 1000);
        Assert.Equal(6000, power.Value, 1e-9);
        Assert.Equal(500, power.StandardUncertainty!.Value, 1e-9);
    }

    [Fact]
    public void Sums_do_not_depend_on_the_order() => Gen.Select(Figures, Figures, Figures).Sample(
        (a, b, c) =>
        {
            Measured left = a + b + c, right = c + (b + a);
            Assert.Equal(left.Value, right.Value, 1e-10);
            Assert.Equal(left.StandardUncertainty!.Value, right.StandardUncertainty!.Value, 1e-10);
        },
        iter: 300,
        seed: "0000KOIKFq6O");

    [Fact]
    public void A_figure_less_itself_is_exactly_nothing() => Figures.Sample(
        a =>
        {
            Assert.Equal(0, (a - a).StandardUncertainty!.Value, 1e-14);
            Assert.Equal(0, Measured.Quotient(a, a).StandardUncertainty!.Value, 1e-14);
        },
        iter: 200,
        seed: "0000KOIKFq6O");

    [Fact]
    public void A_change_of_unit_scales_everything() => Gen.Select(Figures, Gen.Double[1e-3, 1e3]).Sample(
        (a, factor) =>
        {
            var scaled = a.In("x", factor);
            Assert.Equal(a.StandardUncertainty!.Value * factor, scaled.StandardUncertainty!.Value, 1e-9 * factor);
            Assert.Equal(a.Interval()!.Value.Low * factor, scaled.Interval()!.Value.Low, 1e-9 * factor);
            Assert.Equal(a.DegreesOfFreedom, scaled.DegreesOfFreedom);
        },
        iter: 200,
        seed: "0000KOIKFq6O");

    [Fact]
    public void Product_and_quotient_undo_each_other() => Gen.Select(Figures, Figures).Sample(
        (a, b) =>
        {
            var back = Measured.Quotient(Measured.Product(a, b, "x"), b, "Wh");
            Assert.Equal(a.Value, back.Value, 1e-9);
            Assert.Equal(a.StandardUncertainty!.Value, back.StandardUncertainty!.Value, 1e-9);
        },
        iter: 200,
        seed: "0000KOIKFq6O");

    [Fact]
    public void Unlike_units_do_not_add() => Assert.Throws<ArgumentException>(() => Measured.Exact(1, "Wh") + Measured.Exact(1, "J"));

    [Fact]
    public void What_is_unknown_stays_unknown_with_its_reason_unless_it_does_not_count()
    {
        var unknown = Measured.Unknown(1, "Wh", "meter plug states no accuracy of power");
        Assert.Equal("meter plug states no accuracy of power", (unknown + Measured.Exact(1, "Wh")).UnknownBecause);
        Assert.Null((unknown + unknown).StandardUncertainty);
        Assert.Null((unknown + unknown).DegreesOfFreedom);
        Assert.Null(Measured.Combine(1, "Wh", (0, unknown), (1, Measured.Exact(1, "Wh"))).UnknownBecause);
    }
}
