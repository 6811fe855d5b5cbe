namespace ChargeAudit.LogMaker.Traces;

/// <summary>A polynomial, lowest power first: what a charger's stage draws for what it delivers.</summary>
/// <param name="Factors">Factor of each power.</param>
public sealed record Polynomial(params double[] Factors)
{
    public static Polynomial Same { get; } = new(0, 1);

    public double At(double x)
    {
        double y = 0;
        for (int i = Factors.Length - 1; i >= 0; i--)
        {
            y = (y * x) + Factors[i];
        }

        return y;
    }

    /// <summary>This polynomial of another one: p(q(x)).</summary>
    public Polynomial After(Polynomial inner)
    {
        double[] sum = [0];
        for (int i = Factors.Length - 1; i >= 0; i--)
        {
            sum = Times(sum, inner.Factors);
            sum[0] += Factors[i];
        }

        return new Polynomial(sum);
    }

    public Polynomial By(double factor) => new([.. Factors.Select(f => f * factor)]);

    private static double[] Times(double[] a, double[] b)
    {
        double[] product = new double[a.Length + b.Length - 1];
        for (int i = 0; i < a.Length; i++)
        {
            for (int j = 0; j < b.Length; j++)
            {
                product[i + j] += a[i] * b[j];
            }
        }

        return product;
    }
}
