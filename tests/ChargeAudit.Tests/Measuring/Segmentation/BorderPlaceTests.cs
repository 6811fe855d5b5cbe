using ChargeAudit.Logs;
using ChargeAudit.Measuring.Integration;
using ChargeAudit.Measuring.Segmentation;
using ChargeAudit.Tests.Measuring.Segmentation.Truth;

namespace ChargeAudit.Tests.Measuring.Segmentation;

/// <summary>Where a border is put, and how sure that is, on logs whose step lies at a known time.</summary>
public sealed class BorderPlaceTests
{
    // Means over an interval without noise hold the place of a step exactly: the mean of the interval that holds it, compared with the
    // two levels. Times count from the first row's stamp, which ends the first interval.
    [Theory]
    [InlineData(1, 1800, 5400)]
    [InlineData(1, 1800.4, 5400.7)]
    [InlineData(4, 1800, 5400)]
    [InlineData(0.5, 1800.25, 5400.5)]
    public void A_step_of_means_is_found_where_it_is(double intervalS, double riseS, double fallS)
    {
        var log = WrittenLog.Measure([(0.1, riseS), (10, fallS), (0.3, 9000)], intervalS, SampleKind.AverageEnding);
        var modes = log.Result.Modes;

        Assert.Equal([Mode.NoLoad, Mode.Charge, Mode.Maintenance], modes.Select(m => m.Span.Mode));
        Assert.Equal(riseS - intervalS, modes[1].Span.StartS, 0.05);
        Assert.Equal(fallS - intervalS, modes[1].Span.EndS, 0.05);
    }

    // A step of twice the scatter, in 300 logs: where it is found is off by some readings, and the stated uncertainty says so. Were it that
    // of the readings' spacing alone (1/√12 s), more than half of the borders would be off by more than twice that.
    [Fact]
    public void The_scatter_of_readings_makes_a_border_uncertain()
    {
        var random = new TruthRandom(2024);
        int within = 0;
        double squares = 0;
        for (int log = 0; log < 300; log++)
        {
            var envelope = new PowerEnvelope(0);
            for (int i = 0; i < 200; i++)
            {
                double power = (i < 100 ? 5 : 7) + random.Gauss();
                envelope.AddReading(i, power);
                envelope.AddInterval(new PowerInterval(i, i + 1, power, power));
            }

            var border = new BorderRefiner(PowerSeries.From(envelope), 0.25, 1, 1).Refine(0, 200, 100, rises: true);
            double away = (border.TimeS - 100) / border.UncertaintyS;
            within += Math.Abs(away) <= 2 ? 1 : 0;
            squares += Math.Min(away * away, 25);
        }

        Assert.InRange(within / 300.0, 0.9, 1);
        Assert.InRange(squares / 300, 0.2, 2);
    }
}
