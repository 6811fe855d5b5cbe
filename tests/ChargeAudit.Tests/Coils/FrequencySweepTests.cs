using ChargeAudit.Coils;
using CsCheck;

namespace ChargeAudit.Tests.Coils;

public sealed class FrequencySweepTests
{
    [Fact]
    public void Tight_coupling_splits_the_peak_on_either_side_of_resonance()
    {
        // Little load resistance: both loops ring, and the peaks lie near f₀/√(1 ± k).
        CompensatedLink circuit = CompensatedLink.SeriesSeries(Link(0.3, 400, 400));
        FrequencySweep sweep = FrequencySweep.Over(circuit, 0.3, 60e3, 200e3);
        Assert.True(sweep.IsSplit);
        Assert.InRange(sweep.PeaksHz[0], (100e3 / Math.Sqrt(1.3)) - 200, (100e3 / Math.Sqrt(1.3)) + 200);
        Assert.InRange(sweep.PeaksHz[1], (100e3 / Math.Sqrt(0.7)) - 200, (100e3 / Math.Sqrt(0.7)) + 200);
        Assert.Equal(3, sweep.ZeroPhaseHz.Count);
        Assert.Equal(100e3, sweep.ZeroPhaseHz[1], 1);
    }

    // Two 24 µH coils of quality 100 in series resonance at 100 kHz, load 3 Ω. Expected: the mesh equations solved in complex numbers on a
    // grid of 0.001 % (Python 3).
    [Theory]
    [InlineData(0.5, 82557.95, 139830.06)]
    [InlineData(0.8, 75047.48, 222059.54)]
    [InlineData(0.9, 72989.90, 314286.13)]
    [InlineData(0.97, 71649.86, 574063.95)]
    public void The_upper_peak_of_a_tight_coupling_is_found_wherever_it_lies(double coupling, double lowerHz, double upperHz)
    {
        FrequencySweep sweep =
            FrequencySweep.OfSeriesSeries(CompensatedLink.SeriesSeries(Link(coupling, 100, 100) with { SecondaryH = 24e-6 }), 3);
        Assert.Equal(2, sweep.PeaksHz.Count);
        Assert.Equal(lowerHz, sweep.PeaksHz[0], 5.0);
        Assert.Equal(upperHz, sweep.PeaksHz[1], 5.0);
    }

    [Fact]
    public void Loose_coupling_keeps_one_peak()
    {
        FrequencySweep sweep = FrequencySweep.Over(CompensatedLink.SeriesSeries(Link(0.01, 100, 100)), 2, 60e3, 200e3);
        Assert.False(sweep.IsSplit);
        Assert.InRange(Assert.Single(sweep.PeaksHz), 99.8e3, 100.2e3);
        Assert.Equal(100e3, Assert.Single(sweep.ZeroPhaseHz), 1);
    }

    [Fact]
    public void Efficiency_never_exceeds_what_coupling_and_quality_allow() =>
        Gen.Select(Gen.Double[0.01, 0.95], Gen.Double[5, 300], Gen.Double[5, 300], Gen.Double[0.01, 1000], Gen.Double[40e3, 300e3]).Sample(
            (k, q1, q2, load, frequency) =>
            {
                CoilLink link = Link(k, q1, q2);
                foreach (CompensatedLink circuit in (CompensatedLink[])[CompensatedLink.Uncompensated(link),
                    CompensatedLink.SeriesSeries(link), CompensatedLink.SeriesParallel(link)])
                {
                    // Resistances are constant here, so quality grows with frequency, and the bound with it.
                    CoilLink there = link with
                    {
                        FrequencyHz = frequency,
                        PrimaryQ = q1 * frequency / 100e3,
                        SecondaryQ = q2 * frequency / 100e3,
                    };
                    Assert.InRange(circuit.Efficiency(frequency, load), 0, there.MaximumEfficiency * (1 + 1e-12));
                }
            },
            iter: 400,
            seed: "0000000000001");

    [Fact]
    public void The_best_load_is_the_best_of_its_neighbours() =>
        Gen.Select(Gen.Double[0.02, 0.9], Gen.Double[5, 300], Gen.Double[5, 300]).Sample(
            (k, q1, q2) =>
            {
                CoilLink link = Link(k, q1, q2);
                foreach (
                    CompensatedLink circuit in (CompensatedLink[])[CompensatedLink.Uncompensated(link), CompensatedLink.SeriesSeries(link),
                    CompensatedLink.SeriesParallel(link), CompensatedLink.SeriesParallel(link, 1e-7, 1e-7)])
                {
                    double best = circuit.Efficiency(100e3, circuit.BestLoadOhm);
                    Assert.True(circuit.Efficiency(100e3, circuit.BestLoadOhm * 1.05) < best);
                    Assert.True(circuit.Efficiency(100e3, circuit.BestLoadOhm / 1.05) < best);
                }
            },
            iter: 300,
            seed: "0000000000001");

    private static CoilLink Link(double k, double q1, double q2) =>
        new() { PrimaryH = 24e-6, SecondaryH = 12e-6, Coupling = k, PrimaryQ = q1, SecondaryQ = q2, FrequencyHz = 100e3 };
}
