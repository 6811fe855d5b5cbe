using ChargeAudit.Metrology.Statistics;
using ChargeAudit.Metrology.Uncertainty;
using MathNet.Numerics.LinearAlgebra;

namespace ChargeAudit.PublishedChecks.Uncertainty;

/// <summary>
/// Turns estimates with known correlations into figures that share independent sources, so that everything worked out from them is
/// correlated as it should be.
/// <i>Source:</i> JCGM 100:2008, 5.2.2 and H.2 (correlation coefficients); JCGM 101:2008, 6.4.8 (factor of the covariance matrix).
/// </summary>
internal static class CorrelatedInputs
{
    /// <summary>Figures from values, standard uncertainties and correlations.</summary>
    /// <param name="name">Names the observations: the shared sources are <c>NAME/1</c>, <c>NAME/2</c> ….</param>
    /// <param name="inputs">Value, standard uncertainty and unit of each.</param>
    /// <param name="correlation">Correlation coefficients, symmetric with ones on the diagonal. [1]</param>
    /// <param name="degreesOfFreedom">Degrees of freedom of the uncertainties, common to all as they were observed together. [1]</param>
    public static Measured[] Of(
        string name,
        IReadOnlyList<(double Value, double StandardUncertainty, string Unit)> inputs,
        double[,] correlation,
        double degreesOfFreedom = double.PositiveInfinity)
    {
        int n = inputs.Count;
        var values = Matrix<double>.Build.DenseOfArray(correlation).Evd(Symmetricity.Symmetric);
        var figures = new Measured[n];
        for (int i = 0; i < n; i++)
        {
            var parts = new List<UncertaintyComponent>(n);
            for (int j = 0; j < n; j++)
            {
                double part = inputs[i].StandardUncertainty * values.EigenVectors[i, j]
                    * Math.Sqrt(Math.Max(0, values.EigenValues[j].Real));
                parts.Add(new(new InfluenceSource($"{name}/{j + 1}", degreesOfFreedom) { ObservedTogether = name }, part));
            }

            figures[i] = Measured.From(inputs[i].Value, inputs[i].Unit, parts);
        }

        return figures;
    }

    /// <summary>Means of quantities that were read together several times; uncertainties and correlations are those of the means.</summary>
    /// <param name="name">Names the observations.</param>
    /// <param name="readings">Readings and unit of each quantity; the first of each belong together, and so on.</param>
    public static Measured[] FromReadings(string name, IReadOnlyList<(double[] Readings, string Unit)> readings)
    {
        int n = readings.Count, count = n == 0 ? 0 : readings[0].Readings.Length;
        var samples = readings.Select(r => SampleStatistics.Of(r.Readings)).ToArray();
        var correlation = new double[n, n];
        for (int i = 0; i < n; i++)
        {
            for (int j = 0; j <= i; j++)
            {
                double products = 0;
                for (int k = 0; k < count; k++)
                {
                    products += (readings[i].Readings[k] - samples[i].Mean) * (readings[j].Readings[k] - samples[j].Mean);
                }

                double scale = (count - 1) * samples[i].StandardDeviation * samples[j].StandardDeviation;
                correlation[i, j] = correlation[j, i] = i == j ? 1 : scale == 0 ? 0 : Math.Clamp(products / scale, -1, 1);
            }
        }

        return Of(name, [.. readings.Select((r, i) => (samples[i].Mean, samples[i].StandardErrorOfMean, r.Unit))], correlation, count - 1);
    }

    /// <summary>Correlation of two figures through what they share; zero where one of them is exact. [1]</summary>
    /// <param name="a">One figure.</param>
    /// <param name="b">The other.</param>
    public static double Correlation(Measured a, Measured b)
    {
        double squaresA = Measured.Covariance(a, a), squaresB = Measured.Covariance(b, b);
        return squaresA == 0 || squaresB == 0 ? 0 : Measured.Covariance(a, b) / Math.Sqrt(squaresA * squaresB);
    }
}
