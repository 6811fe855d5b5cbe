using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.PublishedChecks.Uncertainty;

/// <summary>NIST Technical Note 1900, example E13: coefficient of thermal expansion, α = (L₁ − L₀)/(L₀(T₁ − T₀)).</summary>
public sealed class NistTn1900Checks
{
    private static readonly Measured[] Inputs =
    [
        Input("l0", 1.4999, 0.0001), Input("l1", 1.5021, 0.0002), Input("t0", 288.15, 0.02), Input("t1", 373.10, 0.05),
    ];

    private static Measured Input(string name, double value, double u) => Measured.From(value, "1", [new(new InfluenceSource(name), u)]);

    [Fact]
    public void Value_and_uncertainty()
    {
        var result = Propagation.Evaluate(x => (x[1] - x[0]) / (x[0] * (x[3] - x[2])), Inputs, "1/K", new MonteCarloOptions { FewestTrials = 200_000, MostTrials = 200_000 });

        Assert.Equal(1.7266e-5, result.Value.Value, 5e-10);
        Assert.Equal(1.76e-6, result.FirstOrderUncertainty, 5e-9);
        Assert.Equal(1.75548e-6, result.FirstOrderUncertainty, 5e-12);

        // Nearly linear: Monte Carlo agrees within what 200 000 trials leave open (three times u/√(2M) = 0.5 %).
        Assert.Equal(1.75548e-6, result.Check.StandardUncertainty, 1.75548e-6 * 0.005);
        Assert.Equal(PropagationMethod.Derivatives, result.Method);
    }
}
