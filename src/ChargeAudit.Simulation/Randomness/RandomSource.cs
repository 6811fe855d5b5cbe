using System.Numerics;

namespace ChargeAudit.Simulation.Randomness;

/// <summary>
/// Seeded random numbers that are the same on every machine and in every version of the runtime: xoshiro256**, filled by SplitMix64, and
/// only operations that IEEE 754 rounds one way. Streams are named, so that drawing more from one does not move another. Not safe for
/// concurrent use. <i>Source:</i> D. Blackman and S. Vigna, Scrambled linear pseudorandom number generators, ACM TOMS 47 (2021) 36.
/// </summary>
public sealed class RandomSource
{
    private readonly ulong _seed;
    private ulong _s0;
    private ulong _s1;
    private ulong _s2;
    private ulong _s3;
    private double _spare = double.NaN;

    /// <summary>Starts a stream.</summary>
    /// <param name="seed">Any number.</param>
    public RandomSource(ulong seed)
    {
        _seed = seed;
        ulong state = seed;
        _s0 = SplitMix(ref state);
        _s1 = SplitMix(ref state);
        _s2 = SplitMix(ref state);
        _s3 = SplitMix(ref state);
    }

    /// <summary>A stream of its own for a name; the same for the same seed and name, whatever was drawn here before.</summary>
    /// <param name="name">Any text.</param>
    /// <returns>The stream at its start.</returns>
    public RandomSource Named(string name)
    {
        ArgumentNullException.ThrowIfNull(name);
        ulong hash = 14695981039346656037;
        foreach (char c in name)
        {
            hash = unchecked((hash ^ c) * 1099511628211);
        }

        ulong state = _seed ^ hash;
        return new RandomSource(SplitMix(ref state));
    }

    /// <summary>The next 64 bits.</summary>
    public ulong NextBits()
    {
        unchecked
        {
            ulong result = BitOperations.RotateLeft(_s1 * 5, 7) * 9;
            ulong shifted = _s1 << 17;
            _s2 ^= _s0;
            _s3 ^= _s1;
            _s1 ^= _s2;
            _s0 ^= _s3;
            _s2 ^= shifted;
            _s3 = BitOperations.RotateLeft(_s3, 45);
            return result;
        }
    }

    /// <summary>Evenly spread over 0 (inclusive) to 1 (exclusive), in steps of 2⁻⁵³.</summary>
    public double NextUnit() => (NextBits() >> 11) * (1.0 / (1UL << 53));

    /// <summary>Evenly spread over −<paramref name="halfWidth"/> to +<paramref name="halfWidth"/>.</summary>
    public double NextWithin(double halfWidth) => halfWidth * ((2 * NextUnit()) - 1);

    /// <summary>From the normal distribution with mean 0 and standard deviation 1, by Marsaglia's polar method.</summary>
    public double NextNormal()
    {
        if (!double.IsNaN(_spare))
        {
            double kept = _spare;
            _spare = double.NaN;
            return kept;
        }

        while (true)
        {
            double x = (2 * NextUnit()) - 1;
            double y = (2 * NextUnit()) - 1;
            double square = (x * x) + (y * y);
            if (square is > 0 and < 1)
            {
                double scale = Math.Sqrt(-2 * PortableMath.Log(square) / square);
                _spare = y * scale;
                return x * scale;
            }
        }
    }

    /// <summary>From the exponential distribution.</summary>
    /// <param name="mean">Its mean.</param>
    public double NextExponential(double mean) => -mean * PortableMath.Log(1 - NextUnit());

    private static ulong SplitMix(ref ulong state)
    {
        unchecked
        {
            state += 0x9E3779B97F4A7C15;
            ulong z = state;
            z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9;
            z = (z ^ (z >> 27)) * 0x94D049BB133111EB;
            return z ^ (z >> 31);
        }
    }
}
