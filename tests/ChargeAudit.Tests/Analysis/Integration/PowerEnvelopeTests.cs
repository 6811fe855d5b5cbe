using ChargeAudit.Analysis.Integration;
using CsCheck;

namespace ChargeAudit.Tests.Analysis.Integration;

public class PowerEnvelopeTests
{
    [Fact]
    public void Cells_are_a_power_of_two_of_a_second_and_no_wider_than_the_usual_interval()
    {
        Assert.Equal(1, PowerEnvelope.ForInterval(1).BucketWidthS);
        Assert.Equal(0.5, PowerEnvelope.ForInterval(0.9).BucketWidthS);
        Assert.Equal(8, PowerEnvelope.ForInterval(10).BucketWidthS);
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
