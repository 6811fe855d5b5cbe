using ChargeAudit.Logs;
using ChargeAudit.Measuring.Integration;
using MathNet.Numerics.Interpolation;

namespace ChargeAudit.PublishedChecks.Integration;

/// <summary>
/// Numerical integration of samples against closed forms and the error terms of the composite rules.
/// Source: F. W. J. Olver et al., Digital Library of Mathematical Functions, 3.5(i); M. Abramowitz, I. A. Stegun, Handbook of Mathematical
/// Functions, 25.4.2 (clause numbers from memory). The exponential's sums are plain arithmetic on the formula.
/// </summary>
public class QuadratureChecks
{
    // 10 W for an hour, then falling as exp(-t / 1200 s) to 0.5 W: 36 000 J and 1200 s × (10 W − 0.5 W) = 11 400 J.
    private const double ChargeJ = 47_400;
    private const double PlateauS = 3600;
    private const double TimeConstantS = 1200;

    private static readonly double EndS = PlateauS + (TimeConstantS * Math.Log(20));

    [Theory]
    [InlineData(2, 1.753931092465)]
    [InlineData(4, 1.727221904558)]
    [InlineData(8, 1.720518592164)]
    public void Trapezoids_under_the_exponential(int panels, double expected) =>
        Assert.Equal(expected, Sum(Math.Exp, 0, 1, panels), 1e-12);

    [Theory]
    [InlineData(4, 1171.0 / 1680)]
    [InlineData(8, 0.694121850372)]
    public void Trapezoids_under_the_hyperbola(int panels, double expected) =>
        Assert.Equal(expected, Sum(x => 1 / x, 1, 2, panels), 1e-12);

    [Fact]
    public void The_error_falls_to_a_quarter_when_the_interval_is_halved()
    {
        double exact = Math.E - 1;
        double ratio = (Sum(Math.Exp, 0, 1, 64) - exact) / (Sum(Math.Exp, 0, 1, 128) - exact);
        Assert.Equal(4, ratio, 0.001);
    }

    // The predicted error of the trapezoid is h²/12 · [f′(b) − f′(a)] over the falling part; f′ = −10/1200 W/s at its start and −0.5/1200
    // W/s at its end.
    [Theory]
    [InlineData(1, 6.597e-4, 2e-6)]
    [InlineData(10, 0.06596, 2e-5)]
    [InlineData(60, 2.3739, 2e-3)]
    public void A_charge_of_constant_power_and_taper_by_trapezoids(double intervalS, double expectedErrorJ, double tolerance)
    {
        double error = EnergyJ(Instants(intervalS), SampleKind.Instantaneous, intervalS) - ChargeJ;
        Assert.Equal(expectedErrorJ, error, tolerance);
        double predicted = intervalS * intervalS / 12 * ((-0.5 / TimeConstantS) - (-10 / TimeConstantS));
        Assert.Equal(predicted, error, 0.001 * predicted + 1e-6);
    }

    // The rule 'power at the start of each interval times the interval', which is exact only for means over the interval.
    [Theory]
    [InlineData(1, 4.75, 0.005)]
    [InlineData(10, 47.56, 0.01)]
    [InlineData(60, 287.3, 0.1)]
    public void The_same_charge_by_rectangles_of_instantaneous_readings_is_too_high(double intervalS, double expectedErrorJ,
        double tolerance)
    {
        var samples = Instants(intervalS);
        double sum = 0;
        for (int i = 0; i + 1 < samples.Count; i++)
        {
            sum += samples[i].PowerW * (samples[i + 1].TimeS - samples[i].TimeS);
        }

        Assert.Equal(expectedErrorJ, sum - ChargeJ, tolerance);
    }

    [Theory]
    [InlineData(1)]
    [InlineData(10)]
    [InlineData(60)]
    public void Means_over_each_interval_give_the_energy_to_rounding_whatever_the_interval(double intervalS)
    {
        var ends = Instants(intervalS);
        var means = ends.Zip(ends.Skip(1), (a, b) => Sample.Empty(b.TimeS, 1) with
        {
            PowerW = (ExactJ(b.TimeS) - ExactJ(a.TimeS)) / (b.TimeS - a.TimeS),
        }).ToList();
        var summary = Summarise(means, SampleKind.AverageEnding, intervalS);
        Assert.Equal(ChargeJ, summary.EnergyJ.Value, 1e-8);
    }

    // Reference library: the integral of MathNet.Numerics' linear spline through the same points.
    [Fact]
    public void An_independent_linear_spline_has_the_same_integral()
    {
        var samples = Instants(7);
        var spline = LinearSpline.InterpolateSorted([.. samples.Select(s => s.TimeS)], [.. samples.Select(s => s.PowerW)]);
        Assert.Equal(spline.Integrate(0, EndS), EnergyJ(samples, SampleKind.Instantaneous, 7), 1e-7);
    }

    private static double Sum(Func<double, double> f, double from, double to, int panels) => Summarise(
        [.. Enumerable.Range(0, panels + 1).Select(i => from + ((to - from) * i / panels)).Select(x => Sample.Empty(x, 1) with
        {
            PowerW = f(x),
        })],
        SampleKind.Instantaneous, (to - from) / panels).EnergyJ.Value;

    private static List<Sample> Instants(double intervalS)
    {
        var times = new List<double>();
        for (double t = 0; t < EndS; t += intervalS)
        {
            times.Add(t);
        }

        times.Add(EndS);
        return [.. times.Select(t => Sample.Empty(t, 1) with
        {
            PowerW = t <= PlateauS ? 10 : 10 * Math.Exp(-(t - PlateauS) / TimeConstantS),
        })];
    }

    private static double ExactJ(double timeS) => timeS <= PlateauS
        ? 10 * timeS
        : 36_000 + (10 * TimeConstantS * (1 - Math.Exp(-(timeS - PlateauS) / TimeConstantS)));

    private static double EnergyJ(IReadOnlyList<Sample> samples, SampleKind kind, double intervalS) =>
        Summarise(samples, kind, intervalS).EnergyJ.Value;

    private static LogSummary Summarise(IReadOnlyList<Sample> samples, SampleKind kind, double intervalS)
    {
        var summary = new LogSummary.Builder(new SummaryRules
        {
            Source = PowerSource.PowerColumn,
            Samples = kind,
            MedianIntervalS = intervalS,
            GapThresholdS = double.PositiveInfinity,
        });
        foreach (var sample in samples)
        {
            summary.Add(sample);
        }

        return summary.Finish();
    }
}
