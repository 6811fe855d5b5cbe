using ChargeAudit.Logs.FirstLook;

namespace ChargeAudit.Tests.Logs.Cleaning;

public class LatticeTests
{
    // A waiting charger at 0.24 W with pulses of 2.13 W: 1.89 W apart, and no steps of 1.89 W.
    [Fact]
    public void Two_values_are_no_lattice() => Assert.Null(Lattice.Step([0.24, 2.13, 0.24, 2.13], 0.01));

    // Multiples of 0.3 W by chance: with one decimal printed, three differences fall on such a grid once in 3² cases.
    [Fact]
    public void A_few_values_are_no_lattice() => Assert.Null(Lattice.Step([0.3, 0.9, 1.2, 2.4], 0.1));

    [Fact]
    public void Many_values_in_steps_of_two_are_one_though_single_watts_are_printed() =>
        Assert.Equal(2, Lattice.Step(Enumerable.Range(0, 20).Select(i => 2.0 * i), 1)!.Value, 12);

    // 2 and 4 W over hundreds of rows: a meter that counts by single watts would have shown 3 W on the way.
    [Fact]
    public void Two_values_two_places_apart_are_a_lattice_where_hundreds_of_rows_never_show_the_one_between()
    {
        Assert.Equal(2, Lattice.Step(Enumerable.Range(0, 300).Select(i => i % 3 == 0 ? 4.0 : 2.0), 1)!.Value, 12);
        Assert.Null(Lattice.Step(Enumerable.Range(0, 30).Select(i => i % 3 == 0 ? 4.0 : 2.0), 1));
    }

    // Six decimals are printed, and the meter counts by 0.0489 W.
    [Fact]
    public void Many_printed_digits_may_hide_coarse_steps() =>
        Assert.Equal(0.0489, Lattice.Step(Enumerable.Range(1, 12).Select(i => 0.0489 * i * (1 + (i % 3))), 1e-6)!.Value, 9);

    [Fact]
    public void Values_one_printed_place_apart_lie_on_the_printed_places() =>
        Assert.Equal(0.01, Lattice.Step([5.01, 5.02], 0.01)!.Value, 12);

    [Fact]
    public void Values_anywhere_are_on_no_lattice()
    {
        var random = new Random(3);
        for (int trial = 0; trial < 200; trial++)
        {
            double[] values = [.. Enumerable.Range(0, 4 + (trial % 20)).Select(_ => 10 * random.NextDouble())];
            Assert.Null(Lattice.Step(values, 1e-9));
        }
    }

    // 0.01 kWh in J, standing still for nine rows in ten.
    [Fact]
    public void A_counter_that_mostly_stands_still_shows_its_step_in_few_moves() =>
        Assert.Equal(36_000, Lattice.CounterStep(Enumerable.Range(0, 40).Select(i => 36_000.0 * (i / 10)))!.Value, 6);

    [Fact]
    public void A_counter_that_moves_by_this_and_that_shows_no_step() =>
        Assert.Null(Lattice.CounterStep([0, 0, 0, 0, 0, 0, 0, 1.3, 3.0, 5.2]));

    // The framework's own Distinct and Order are the oracle, for printed values, for such among which one is not printed so, and for any.
    [Theory]
    [InlineData(0.001, 0)]
    [InlineData(0.001, 0.0004)]
    [InlineData(0.1, 0)]
    [InlineData(0, 0)]
    [InlineData(1e-9, 0)]
    public void Different_values_are_each_there_once_in_rising_order(double printed, double stray)
    {
        var random = new Random(11);
        for (int trial = 0; trial < 100; trial++)
        {
            double[] readings = [.. Enumerable.Range(0, random.Next(1, 400)).Select(i => i % 17 == 3
                ? double.NaN
                : (random.Next(-40, 900) * (printed == 0 ? random.NextDouble() : printed)) + (i == 5 ? stray : 0))];
            Assert.Equal(readings.Where(double.IsFinite).Distinct().Order(), Lattice.Different(readings, printed));
        }
    }

    [Fact]
    public void Nothing_read_has_no_different_values() => Assert.Empty(Lattice.Different([double.NaN, double.PositiveInfinity], 0.01));

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public void Of_zeros_of_either_sign_the_first_is_kept(bool negative)
    {
        double first = negative ? -0.0 : 0.0;
        Assert.Equal(negative, double.IsNegative(Assert.Single(Lattice.Different([first, -first], 0.01))));
    }
}
