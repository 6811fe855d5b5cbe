using ChargeAudit.Logs;
using ChargeAudit.Measuring;
using ChargeAudit.Measuring.Integration;
using static ChargeAudit.Tests.Measuring.Integration.SampleSeries;

namespace ChargeAudit.Tests.Measuring;

public class SamplingErrorTests
{
    private const double Everything = double.PositiveInfinity;

    // One step of 9 W somewhere between two rows a minute apart: 9·60/√12 J; forty rows cover 39 minutes, so each stands for 58.5 s.
    [Fact]
    public void A_step_may_lie_anywhere_between_two_rows() =>
        Assert.Equal(9 * 58.5 / Math.Sqrt(12), SamplingError.StandardJ(Envelope(60, i => i < 20 ? 1 : 10, 40), -Everything, Everything),
            1e-6);

    // Scatter of 0.5 W that is new at each of 400 rows, 60 s apart: √400 · 0.5 · 60 J.
    [Fact]
    public void Independent_scatter_counts_by_the_root_of_the_number_of_rows()
    {
        var random = new Random(4);
        double found = SamplingError.StandardJ(Envelope(60, _ => 5 + (0.5 * Normal(random)), 400), -Everything, Everything);
        Assert.Equal(20 * 0.5 * 60, found, 0.15 * 600);
    }

    // A pulse that one reading in 100 caught: it could have been one more or one fewer.
    [Fact]
    public void A_pulse_caught_once_may_have_been_caught_twice_or_never()
    {
        double found = SamplingError.StandardJ(Envelope(10, i => i == 50 ? 2.1 : 0.1, 100), -Everything, Everything);
        Assert.InRange(found, 2.0 * 10, 2.0 * 10 * 1.5);
    }

    // A steady fall from 10 to 0.5 W, 60 rows: what straight lines may miss if it went in steps, 9.5/59 · 60/√12 · √59 J, 0.1 % of
    // the energy.
    [Fact]
    public void A_course_is_no_scatter() =>
        Assert.Equal(9.5 / 59 * 60 / Math.Sqrt(12) * Math.Sqrt(59),
            SamplingError.StandardJ(Envelope(60, i => 10 - (9.5 * i / 59), 60), -Everything, Everything), 1.0);

    // Noise of 0.05 W on means over 30 s of a charge that falls from 10 W as e^(−t/1200): σ/√n, and nothing for the fall itself.
    [Theory]
    [InlineData(5)]
    [InlineData(30)]
    [InlineData(60)]
    public void Noise_of_means_over_slow_windows_leaves_out_the_charges_course(double windowS)
    {
        var random = new Random(2);
        int rows = (int)(7200 / windowS);
        var summary = Summarise(
            Enumerable.Range(1, rows).Select(i => At(i * windowS, (10 * Math.Exp(-i * windowS / 1200)) + (0.05 * Normal(random)))),
                Rules(SampleKind.AverageEnding, windowS));
        double expected = 0.05 / Math.Sqrt(rows);
        Assert.Equal(expected, NoiseEstimate.OfMeanPowerW(summary.Envelope, -Everything, Everything, SampleKind.AverageEnding), 0.25
            * expected);
    }

    // Half an hour each of 4, 15 and 1 W, and pulses: none of it is noise of a mean.
    [Fact]
    public void Stages_and_pulses_of_the_load_are_no_noise_of_means()
    {
        var summary = Summarise(
            Enumerable.Range(1, 540).Select(i => At(i * 10, i <= 180 ? 4 : i <= 360 ? 15 : i % 20 == 0 ? 3 : 1)),
                Rules(SampleKind.AverageEnding, 10));
        Assert.Equal(0, NoiseEstimate.OfMeanPowerW(summary.Envelope, -Everything, Everything, SampleKind.AverageEnding), 12);
    }

    // Means over 10 s, of which one window was lost between 4 and 10 W: (10 − 4)·10/√3 J; a mean over all windows misses nothing.
    [Fact]
    public void A_lost_window_may_have_held_what_either_neighbour_does()
    {
        Assert.Equal(60 / Math.Sqrt(3), Unseen(i => i == 20), 9);
        Assert.Equal(0, Unseen(_ => false), 12);

        static double Unseen(Func<int, bool> lost)
        {
            var summary = Summarise(Enumerable.Range(1, 60).Where(i => !lost(i)).Select(i => At(i * 10, i < 20 ? 4 : 10)),
                Rules(SampleKind.AverageEnding, 10));
            return summary.Unseen!.StandardBetweenJ(-Everything, Everything);
        }
    }

    private static PowerEnvelope Envelope(double intervalS, Func<int, double> power, int rows)
    {
        var summary = Summarise(Enumerable.Range(0, rows).Select(i => At(i * intervalS, power(i))), Rules(medianIntervalS: intervalS));
        return summary.Envelope;
    }

    private static double Normal(Random random) =>
        Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());
}
