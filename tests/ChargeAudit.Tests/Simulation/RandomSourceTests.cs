using ChargeAudit.Simulation.Randomness;

namespace ChargeAudit.Tests.Simulation;

public sealed class RandomSourceTests
{
    /// <summary>The first outputs of xoshiro256** after filling its state from SplitMix64 with seed 0, worked out by hand from the
    /// published algorithm in Python.</summary>
    [Fact]
    public void The_bits_are_those_of_the_published_generator()
    {
        RandomSource random = new(0);
        Assert.Equal([0x99EC5F36CB75F2B4, 0xBF6E1F784956452A, 0x1A5F849D4933E6E0],
            new[] { random.NextBits(), random.NextBits(), random.NextBits() });
    }

    [Fact]
    public void A_named_stream_does_not_depend_on_what_was_drawn_before()
    {
        RandomSource drawn = new(7);
        drawn.NextNormal();
        Assert.Equal(new RandomSource(7).Named("a").NextBits(), drawn.Named("a").NextBits());
        Assert.NotEqual(drawn.Named("a").NextBits(), drawn.Named("b").NextBits());
    }

    /// <summary>Mean, variance, skewness and kurtosis of 200 000 draws lie within five of their standard errors (√(1/n), √(2/n), √(6/n),
    /// √(24/n)).</summary>
    [Fact]
    public void Normal_numbers_have_the_moments_of_the_normal_distribution()
    {
        RandomSource random = new(42);
        const int Count = 200_000;
        double[] moments = new double[5];
        for (int i = 0; i < Count; i++)
        {
            double x = random.NextNormal();
            for (int power = 1; power <= 4; power++)
            {
                moments[power] += Math.Pow(x, power) / Count;
            }
        }

        Assert.Equal(0, moments[1], 5 * Math.Sqrt(1.0 / Count));
        Assert.Equal(1, moments[2], 5 * Math.Sqrt(2.0 / Count));
        Assert.Equal(0, moments[3], 5 * Math.Sqrt(15.0 / Count));
        Assert.Equal(3, moments[4], 5 * Math.Sqrt(96.0 / Count));
    }

    [Fact]
    public void Even_and_exponential_numbers_have_their_means()
    {
        RandomSource random = new(1);
        const int Count = 100_000;
        double unit = 0;
        double exponential = 0;
        for (int i = 0; i < Count; i++)
        {
            unit += random.NextUnit() / Count;
            exponential += random.NextExponential(3) / Count;
        }

        // Five standard errors: √(1/12)/√n and 3/√n.
        Assert.Equal(0.5, unit, 5 * 0.2887 / Math.Sqrt(Count));
        Assert.Equal(3, exponential, 5 * 3 / Math.Sqrt(Count));
    }

    [Fact]
    public void The_portable_logarithm_is_right_to_a_few_units_of_the_last_place()
    {
        RandomSource random = new(3);
        for (int i = 0; i < 10_000; i++)
        {
            double x = (1 - random.NextUnit()) * Math.Pow(10, (i % 41) - 20);
            double expected = Math.Log(x);
            Assert.Equal(expected, PortableMath.Log(x), 4e-16 * Math.Max(1, Math.Abs(expected)));
        }
    }
}
