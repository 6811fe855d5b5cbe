namespace ChargeAudit.Metrology.Uncertainty;

/// <summary>
/// Distribution function of the sum of bounded errors and a normal one, all independent and symmetric about zero, as the Fourier series of the
/// sum repeated at a period so long that no repetition reaches the values asked for. With a normal part the terms fall off as its
/// characteristic function does and the series is exact to about 1e-14; without one it ends after <see cref="MostTerms"/> terms, which leaves
/// less than 1e-6 for two errors and less for more.
/// <i>Source:</i> Poisson's summation formula for a density whose characteristic function is known.
/// </summary>
internal sealed class FourierDistribution
{
    private const int MostTerms = 1024;

    // In standard deviations of the normal part: less than 1e-15 lies further out, and of its characteristic function likewise.
    private const double Certain = 8.3;

    // So many terms below this in a row are no zeros of the characteristic function on its way: it has come to its end.
    private const int SmallTerms = 8;
    private const double Small = 1e-13;

    private readonly double[] _terms;
    private readonly double _period;
    private readonly int _count;

    /// <param name="bounded">Errors with limits; two or more where there is no normal one.</param>
    /// <param name="normal">Standard deviation of the normal error; zero for none.</param>
    /// <param name="most">Greatest value that is asked for.</param>
    public FourierDistribution(List<BoundedError> bounded, double normal, double most)
    {
        _period = most + bounded.Sum(b => b.HalfWidth) + (Certain * normal);
        double frequency = 2 * Math.PI / _period;
        _terms = new double[(int)Math.Min(MostTerms, Math.Ceiling(Certain / (normal * frequency)))];
        for (int k = 1, small = 0; k <= _terms.Length && small < SmallTerms; k++)
        {
            double t = k * frequency;
            double characteristic = Math.Exp(-0.5 * normal * normal * t * t);
            foreach (var error in bounded)
            {
                characteristic *= error.Characteristic(t);
            }

            _terms[k - 1] = characteristic / (Math.PI * k);
            small = Math.Abs(_terms[k - 1]) < Small ? small + 1 : 0;
            _count = k;
        }
    }

    /// <summary>Probability that the sum lies between zero and a value.</summary>
    /// <param name="value">Not below zero, at most the greatest that was announced.</param>
    public double FromZeroTo(double value)
    {
        // Clenshaw's recurrence for a sum of sines.
        double angle = 2 * Math.PI * value / _period;
        double twice = 2 * Math.Cos(angle), next = 0, afterNext = 0;
        for (int k = _count - 1; k >= 0; k--)
        {
            (next, afterNext) = (_terms[k] + (twice * next) - afterNext, next);
        }

        return (value / _period) + (next * Math.Sin(angle));
    }
}
