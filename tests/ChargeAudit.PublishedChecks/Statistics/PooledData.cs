using MathNet.Numerics.LinearAlgebra;

namespace ChargeAudit.PublishedChecks.Statistics;

/// <summary>Sets of data on which the pooling statistics are checked.</summary>
internal static class PooledData
{
    /// <summary>Trials of the BCG vaccine: logarithm of the relative risk, made by escalc of r-cran-metafor 3.8-1 from dat.bcg of
    /// r-cran-metadat 1.2-0 (G. A. Colditz and others, JAMA 271 (1994) 698–702).</summary>
    public static readonly double[] Bcg =
    [
        -0.8893113339, -1.5853886572, -1.3480731483, -1.4415511900, -0.2175473222, -0.7861155858, -1.6208982236, 0.0119523335,
            -0.4694176487, -1.3713448035,
        -0.3393588283, 0.4459134006, -0.0173139482,
    ];

    public static readonly double[] BcgVariances =
    [
        0.325584765004, 0.194581121398, 0.415367965368, 0.020010031902, 0.051210172170, 0.006905618456, 0.223017247572, 0.003961579298,
            0.056434210463,
        0.073024793613, 0.012412213972, 0.532505845200, 0.071404659684,
    ];

    /// <summary>Degrees of latitude of the trials.</summary>
    public static readonly double[] BcgLatitude = [44, 55, 42, 52, 13, 44, 19, 13, 27, 42, 18, 33, 33];

    /// <summary>Days in hospital after a stroke, by two sorts of care: dat.normand1999 (S. L. Normand, Statistics in Medicine 18 (1999)
    /// 321–359).</summary>
    public static readonly double[] Stay = [-20, -2, -55, -71, -4, 1, 11, -10, 7];

    public static readonly double[] StayVariances =
        [40.5080231596, 2.0806451613, 15.6984037559, 150.2222222222, 17.3076923077, 1.1673414305, 94.5891265597, 6.3108792846,
            19.8423076923];

    /// <summary>Schools within districts: dat.konstantopoulos2011 (S. Konstantopoulos, Research Synthesis Methods 2 (2011)
    /// 61–76).</summary>
    public static readonly int[] District =
    [
        11, 11, 11, 11, 12, 12, 12, 12, 18, 18, 18, 27, 27, 27, 27, 56, 56, 56, 56, 58, 58, 58, 58, 58, 58, 58, 58, 58, 58, 58, 71, 71, 71,
            86, 86, 86, 86, 86, 86,
        86, 86, 91, 91, 91, 91, 91, 91, 108, 108, 108, 108, 108, 644, 644, 644, 644,
    ];

    public static readonly double[] School =
    [
        -0.18, -0.22, 0.23, -0.3, 0.13, -0.26, 0.19, 0.32, 0.45, 0.38, 0.29, 0.16, 0.65, 0.36, 0.6, 0.08, 0.04, 0.19, -0.06, -0.18, 0, 0,
            -0.28, -0.04, -0.3, 0.07,
        0, 0.05, -0.08, -0.09, 0.3, 0.98, 1.19, -0.07, -0.05, -0.01, 0.02, -0.03, 0, 0.01, -0.1, 0.5, 0.66, 0.2, 0, 0.05, 0.07, -0.52, 0.7,
            -0.03, 0.27, -0.34,
        0.12, 0.61, 0.04, -0.05,
    ];

    public static readonly double[] SchoolVariances =
    [
        0.118, 0.118, 0.144, 0.144, 0.014, 0.014, 0.015, 0.024, 0.023, 0.043, 0.012, 0.02, 0.004, 0.004, 0.007, 0.019, 0.007, 0.005, 0.004,
            0.02, 0.018, 0.019,
        0.022, 0.02, 0.021, 0.006, 0.007, 0.007, 0.007, 0.007, 0.015, 0.011, 0.01, 0.001, 0.001, 0.001, 0.001, 0.001, 0.001, 0.001, 0.001,
            0.01, 0.011, 0.01, 0.009,
        0.013, 0.013, 0.031, 0.031, 0.03, 0.03, 0.03, 0.087, 0.082, 0.067, 0.067,
    ];

    /// <summary>Five devices on three chargers, invented: the unbalanced set leaves four cells empty.</summary>
    public static readonly int[] Unbalanced = [0, 1, 2, 4, 5, 6, 7, 9, 11, 12, 14];

    private static readonly double[] Crossed = [0.352, 0.421, 0.298, 0.410, 0.455, 0.377, 0.301, 0.402, 0.287, 0.466, 0.541, 0.402, 0.371,
        0.399, 0.333];

    private static readonly double[] CrossedOwn = [4, 6, 5, 3, 4, 9, 5, 5, 4, 6, 3, 4, 8, 5, 6];

    /// <summary>Estimates, and their covariance: each its own, 2e-4 within a device (its reference run), 1.5e-4 among the first three
    /// (their meter).</summary>
    public static (double[] Y, Matrix<double> V, int[] Device, int[] Charger) CrossedSet(bool balanced)
    {
        int[] rows = balanced ? [.. Enumerable.Range(0, 15)] : Unbalanced;
        var v = Matrix<double>.Build.Dense(rows.Length, rows.Length, (a, b) =>
            1e-4 * ((a == b ? CrossedOwn[rows[a]] : 0) + (rows[a] / 3 == rows[b] / 3 ? 2 : 0)
                + (rows[a] / 3 < 3 && rows[b] / 3 < 3 ? 1.5 : 0)));
        return ([.. rows.Select(r => Crossed[r])], v, [.. rows.Select(r => r / 3)], [.. rows.Select(r => r % 3)]);
    }

    public static Matrix<double> Diagonal(double[] variances) => Matrix<double>.Build.DenseOfDiagonalArray(variances);

    public static double[] Ones(int count) => [.. Enumerable.Repeat(1.0, count)];
}
