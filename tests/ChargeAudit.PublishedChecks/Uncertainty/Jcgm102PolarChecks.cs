using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.PublishedChecks.Uncertainty;

/// <summary>JCGM 102:2011, conversion to polar form, Tables 6 and 7 (read in suncal's tests): a complex quantity near zero.</summary>
public sealed class Jcgm102PolarChecks
{
    private static readonly MonteCarloOptions Many = new() { FewestTrials = 400_000, MostTrials = 400_000 };

    [Theory]
    [InlineData(0.0, 0.013, 0.007, 1.744)]
    [InlineData(0.9, 0.012, 0.008, 1.599)]
    public void Magnitude_and_phase_near_zero(double correlation, double magnitude, double uMagnitude, double uPhase)
    {
        var inputs = CorrelatedInputs.Of("complex", [(0.001, 0.010, "1"), (0, 0.010, "1")], new double[,] { { 1, correlation }, { correlation, 1 } });
        var size = Propagation.Evaluate(x => Math.Sqrt((x[0] * x[0]) + (x[1] * x[1])), inputs, "1", Many);
        var phase = MonteCarlo.Run(x => Math.Atan2(x[1], x[0]), inputs, Many);

        // Half a unit of the last digit printed, and a little for the draws.
        Assert.Equal(magnitude, size.Check.Mean, 6e-4);
        Assert.Equal(uMagnitude, size.Check.StandardUncertainty, 6e-4);
        Assert.Equal(uPhase, phase.StandardUncertainty, 0.006);
        Assert.Equal(PropagationMethod.MonteCarlo, size.Method);
    }

    [Fact]
    public void By_derivatives_the_phase_is_absurdly_uncertain()
    {
        // GUF: |·| 0.001 with u 0.010, phase 0 with u 10.000: ∂φ/∂Im = 1/Re.
        var inputs = CorrelatedInputs.Of("complex", [(0.001, 0.010, "1"), (0, 0.010, "1")], new double[,] { { 1, 0 }, { 0, 1 } });
        var phase = Measured.Combine(0, "rad", (0, inputs[0]), (1 / 0.001, inputs[1]));
        Assert.Equal(10.000, phase.StandardUncertainty!.Value, 5e-4);
    }
}
