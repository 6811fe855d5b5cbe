using ChargeAudit.Measuring.Integration;
using CsCheck;

namespace ChargeAudit.Tests.Measuring.Integration;

public class PowerEnvelopeTests
{
    [Fact]
    public void Cells_are_a_power_of_two_of_a_second_and_no_wider_than_the_usual_interval()
    {
        Assert.Equal(1, PowerEnvelope.ForInterval(1).BucketWidthS);
        Assert.Equal(0.5, PowerEnvelope.ForInterval(0.9).BucketWidthS);
        Assert.Equal(8, PowerEnvelope.ForInterval(10).BucketWidthS);
        Assert.Equal(1, PowerEnvelope.ForInterval(1, 4 * PowerEnvelope.MaxBuckets).BucketWidthS);
        Assert.Equal(2, PowerEnvelope.ForInterval(1, 8 * PowerEnvelope.MaxBuckets).BucketWidthS);
    }

    [Theory]
    [InlineData(1)]
    [InlineData(0.01)]
    public void Cells_that_begin_wider_since_many_rows_are_to_come_end_the_same(double shortIntervalS)
    {
        // Half of the intervals are as long as the median; the others may be far shorter.
        const int Rows = 700_000;
        var random = new Random(5);
        var narrow = PowerEnvelope.ForInterval(1);
        var wide = PowerEnvelope.ForInterval(1, Rows);
        Assert.Equal(2, wide.BucketWidthS);
        double from = 0;
        for (int i = 0; i < Rows; i++)
        {
            double to = from + (i % 2 == 0 ? 1 : shortIntervalS);
            var interval = new PowerInterval(from, to, random.NextDouble(), random.NextDouble());
            narrow.AddReading(from, interval.FromW);
            wide.AddReading(from, interval.FromW);
            narrow.AddInterval(interval);
            wide.AddInterval(interval);
            from = to;
        }

        Assert.Equal((narrow.BucketWidthS, narrow.OriginS, narrow.Count), (wide.BucketWidthS, wide.OriginS, wide.Count));
        for (int i = 0; i < wide.Count; i++)
        {
            Assert.Equal((narrow[i].Readings, narrow[i].MinPowerW, narrow[i].MaxPowerW),
                (wide[i].Readings, wide[i].MinPowerW, wide[i].MaxPowerW));
            Assert.Equal(narrow[i].EnergyJ.Value, wide[i].EnergyJ.Value, 1e-9);
        }
    }

    [Fact]
    public void The_number_of_cells_stays_bounded_and_no_energy_is_lost()
    {
        var envelope = new PowerEnvelope(0);
        double total = 0;
        for (int i = 0; i < 300; i++)
        {
            var interval = new PowerInterval(i * 1000.0, (i + 1) * 1000.0, 1 + i, 1 + i);
            envelope.AddInterval(interval);
            total += interval.EnergyJ;
        }

        Assert.InRange(envelope.Count, 1, PowerEnvelope.MaxBuckets);
        Assert.Equal(total, envelope.EnergyBetweenJ(double.NegativeInfinity, double.PositiveInfinity), 1e-6 * total);
    }

    [Fact]
    public void Energy_between_two_times_is_exact_at_cell_borders()
    {
        var envelope = new PowerEnvelope(0);
        envelope.AddInterval(new PowerInterval(0, 10, 0, 10));
        Assert.Equal(0.5 * (3 + 7) * 4, envelope.EnergyBetweenJ(3, 7), 12);
    }

    [Fact]
    public void Parts_add_up_to_the_whole() => Gen.Select(Gen.Double[0, 50], Gen.Double[50, 100]).Sample((cut, end) =>
    {
        var envelope = new PowerEnvelope(-2);
        envelope.AddInterval(new PowerInterval(0, 100, 3, 9));
        double parts = envelope.EnergyBetweenJ(0, cut) + envelope.EnergyBetweenJ(cut, end);
        Assert.Equal(envelope.EnergyBetweenJ(0, end), parts, 1e-9);
    }, iter: 500, seed: "0000QRe4fBt3");

    [Fact]
    public void Extremes_survive_when_cells_are_joined()
    {
        var envelope = new PowerEnvelope(0);
        for (int i = 0; i < 1000; i++)
        {
            envelope.AddReading(i, i == 567 ? 99 : 1);
            envelope.AddInterval(new PowerInterval(i, i + 1, 1, 1));
        }

        var reduced = envelope.Reduced(10);
        Assert.InRange(reduced.Count, 1, 10);
        Assert.Equal(99, Enumerable.Range(0, reduced.Count).Max(i => reduced[i].MaxPowerW));
        Assert.Equal(1000, reduced.EnergyBetweenJ(0, 2000), 9);
    }
}
