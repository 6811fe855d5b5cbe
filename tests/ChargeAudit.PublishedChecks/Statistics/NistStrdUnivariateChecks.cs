using ChargeAudit.Metrology.Statistics;

namespace ChargeAudit.PublishedChecks.Statistics;

/// <summary>NIST Statistical Reference Datasets, Univariate Summary Statistics: certified mean, standard deviation and lag-1
/// autocorrelation of all eight sets.</summary>
public sealed class NistStrdUnivariateChecks
{
    public static TheoryData<string, double, double, double, double, double> Certified => new()
    {
        // set, mean, standard deviation, lag-1 autocorrelation, tolerance of the deviation, tolerance of the autocorrelation (both
        // relative).
        // 1e-13: the certified digits that a double can hold. NumAcc3 and NumAcc4: .1 and .3 are not exact in binary beside 1e6 and 1e7, so
        // the *data* as doubles have the deviations 0.10000000003 and 0.10000000056; the tolerance allows for that, not for errors of ours.
        { "NumAcc1", 10000002, 1, -0.5, 1e-14, 1e-14 },
        { "NumAcc2", 1.2, 0.1, -0.999, 1e-13, 1e-13 },
        { "NumAcc3", 1000000.2, 0.1, -0.999, 1e-9, 1e-9 },
        { "NumAcc4", 10000000.2, 0.1, -0.999, 1e-8, 1e-8 },
        { "Lew", -177.435000000000, 277.332168044316, -0.307304800605679, 1e-14, 1e-13 },
        { "Lottery", 518.958715596330, 291.699727470969, -0.120948622967393, 1e-14, 1e-13 },
        { "Mavro", 2.00185600000000, 0.000429123454003053, 0.937989183438248, 1e-11, 1e-11 },
        { "Michelso", 299.852400000000, 0.0790105478190518, 0.535199668621283, 1e-12, 1e-12 },
    };

    [Theory]
    [MemberData(nameof(Certified))]
    public void Certified_values(string set, double mean, double deviation, double lag1, double deviationTolerance, double lagTolerance)
    {
        double[] data = Data(set);
        var found = SampleStatistics.Of(data);

        // 15 significant digits: the certified value rounded to a double.
        Assert.Equal(mean, found.Mean, 2e-15 * Math.Abs(mean));
        Assert.Equal(deviation, found.StandardDeviation, deviationTolerance * deviation);
        Assert.Equal(lag1, Autocorrelation.Lag1(data), lagTolerance * Math.Abs(lag1));
    }

    [Fact]
    public void One_pass_over_sums_of_squares_fails_on_NumAcc4()
    {
        double[] data = Data("NumAcc4");
        double onePass = (data.Sum(x => x * x) - (data.Sum() * data.Sum() / data.Length)) / (data.Length - 1);

        // The trap that the two-pass form is there for: the certified variance is 0.01.
        Assert.True(Math.Abs(onePass - 0.01) > 0.1, $"the one-pass variance came out as {onePass}");
        Assert.Equal(0.01, SampleStatistics.Of(data).Variance, 1e-9);
    }

    [Fact]
    public void Mavro_is_worth_less_than_two_independent_readings()
    {
        // n(1 − ρ)/(1 + ρ) = 50 × 0.062011/1.937989 = 1.60 (closed form at the certified ρ).
        double factor = Autocorrelation.InflationFactor(Autocorrelation.Lag1(NistStrdData.Mavro));
        Assert.Equal(1.60, 50 / (factor * factor), 0.005);
    }

    private static double[] Data(string set) => set switch
    {
        "NumAcc1" => NistStrdData.NumAcc1,
        "NumAcc2" => NistStrdData.Alternating(1.2, 1.1, 1.3),
        "NumAcc3" => NistStrdData.Alternating(1000000.2, 1000000.1, 1000000.3),
        "NumAcc4" => NistStrdData.Alternating(10000000.2, 10000000.1, 10000000.3),
        "Lew" => NistStrdData.Lew,
        "Lottery" => NistStrdData.Lottery,
        "Mavro" => NistStrdData.Mavro,
        _ => NistStrdData.Michelso,
    };
}
