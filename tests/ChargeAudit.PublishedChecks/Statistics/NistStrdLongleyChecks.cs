using ChargeAudit.Metrology.Statistics;

namespace ChargeAudit.PublishedChecks.Statistics;

/// <summary>
/// NIST Statistical Reference Datasets, Linear Regression, Longley: six columns that nearly repeat one another, 16 observations, higher
/// level of difficulty. Data and certified values were read where public test suites of statistics libraries quote them, several agreeing
/// to the last digit.
/// </summary>
public sealed class NistStrdLongleyChecks
{
    private static readonly double[] Y =
        [60323, 61122, 60171, 61187, 63221, 63639, 64989, 63761, 66019, 67857, 68169, 66513, 68655, 69564, 69331, 70551];

    private static readonly double[][] X =
    [
        [83.0, 88.5, 88.2, 89.5, 96.2, 98.1, 99.0, 100.0, 101.2, 104.6, 108.4, 110.8, 112.6, 114.2, 115.7, 116.9],
        [234289, 259426, 258054, 284599, 328975, 346999, 365385, 363112, 397469, 419180, 442769, 444546, 482704, 502601, 518173, 554894],
        [2356, 2325, 3682, 3351, 2099, 1932, 1870, 3578, 2904, 2822, 2936, 4681, 3813, 3931, 4806, 4007],
        [1590, 1456, 1616, 1650, 3099, 3594, 3547, 3350, 3048, 2857, 2798, 2637, 2552, 2514, 2572, 2827],
        [107608, 108632, 109773, 110929, 112075, 113270, 115094, 116219, 117388, 118734, 120445, 121950, 123366, 125368, 127852, 130081],
        [1947, 1948, 1949, 1950, 1951, 1952, 1953, 1954, 1955, 1956, 1957, 1958, 1959, 1960, 1961, 1962],
    ];

    private static readonly LeastSquaresFit Fit = LeastSquaresFit.Columns(X, Y);

    private static readonly double[] CertifiedCoefficients =
        [-3482258.63459582, 15.0618722713733, -0.358191792925910E-01, -2.02022980381683, -1.03322686717359, -0.511041056535807E-01,
            1829.15146461355];

    private static readonly double[] CertifiedDeviations =
        [890420.383607373, 84.9149257747669, 0.334910077722432E-01, 0.488399681651699, 0.214274163161675, 0.226073200069370,
            455.478499142212];

    // 9 digits: centred and scaled, the columns' condition is about 1e2 and squares in the residuals' part; the certified values show
    // fifteen.
    private static void Agrees(double certified, double found) => Assert.Equal(certified, found, 1e-9 * Math.Abs(certified));

    [Fact]
    public void Certified_coefficients_and_their_standard_deviations()
    {
        for (int i = 0; i < CertifiedCoefficients.Length; i++)
        {
            Agrees(CertifiedCoefficients[i], Fit.Coefficients[i]);
            Agrees(CertifiedDeviations[i], Fit.StandardError(i));
        }
    }

    [Fact]
    public void Certified_analysis_of_variance()
    {
        Agrees(304.854073561965, Fit.ResidualStandardDeviation);
        Agrees(0.995479004577296, Fit.RSquared);
        Agrees(836424.055505915, Fit.ResidualSumOfSquares);
        Agrees(330.285339234588, (Fit.TotalSumOfSquares - Fit.ResidualSumOfSquares) / 6
            / (Fit.ResidualSumOfSquares / Fit.DegreesOfFreedom));
        Assert.Equal(9, Fit.DegreesOfFreedom);
    }

    [Fact]
    public void The_weights_of_the_observations_give_the_certified_coefficients()
    {
        for (int i = 1; i < CertifiedCoefficients.Length; i++)
        {
            double sum = Enumerable.Range(0, Y.Length).Sum(k => Fit.Weight(i, k) * Y[k]);
            Assert.Equal(CertifiedCoefficients[i], sum, 1e-7 * Math.Abs(CertifiedCoefficients[i]));
        }
    }
}
