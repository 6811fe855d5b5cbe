namespace ChargeAudit.LogMaker;

/// <summary>Seeded random numbers: a 32-bit permuted congruential generator, so that a seed gives the same study on every
/// machine.</summary>
/// <remarks>M. E. O'Neill, PCG: a family of simple fast space-efficient statistically good algorithms, HMC-CS-2014-0905 (2014), variant XSH
/// RR.</remarks>
public sealed class Dice
{
    private const ulong Multiplier = 6364136223846793005;
    private const ulong Increment = 1442695040888963407;
    private ulong _state;

    public Dice(ulong seed)
    {
        unchecked
        {
            // Neighbouring seeds must not start neighbouring sequences, so the seed's bits are spread over all 64 first.
            ulong z = (seed + 1) * 0x9E3779B97F4A7C15UL;
            z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9UL;
            z = (z ^ (z >> 27)) * 0x94D049BB133111EBUL;
            _state = z ^ (z >> 31);
        }

        Next();
        Next();
    }

    /// <summary>A number from 0 up to, but not including, 1.</summary>
    public double Unit() => ((Next() >> 6) * 134217728.0 + (Next() >> 5)) / 9007199254740992.0;

    /// <summary>A number anywhere between two limits.</summary>
    public double Between(double low, double high) => low + ((high - low) * Unit());

    /// <summary>A number between two limits above zero, each factor equally likely.</summary>
    public double Scale(double low, double high) => low * Math.Pow(high / low, Unit());

    /// <summary>True in the share given. [1]</summary>
    public bool Chance(double share) => Unit() < share;

    /// <summary>One of several, each equally likely.</summary>
    public T Of<T>(params ReadOnlySpan<T> some) => some[(int)(Unit() * some.Length)];

    /// <summary>A whole number from the first to the last, both possible.</summary>
    public int Whole(int first, int last) => first + (int)(Unit() * (last - first + 1));

    /// <summary>A normal number with mean 0 and standard deviation 1.</summary>
    public double Normal()
    {
        double u = 1 - Unit();
        return Math.Sqrt(-2 * Math.Log(u)) * Math.Cos(2 * Math.PI * Unit());
    }

    private uint Next()
    {
        unchecked
        {
            ulong old = _state;
            _state = (old * Multiplier) + Increment;
            uint shifted = (uint)(((old >> 18) ^ old) >> 27);
            int turn = (int)(old >> 59);
            return (shifted >> turn) | (shifted << (-turn & 31));
        }
    }
}
