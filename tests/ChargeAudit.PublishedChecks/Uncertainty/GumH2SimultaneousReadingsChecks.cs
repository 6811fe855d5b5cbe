using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.PublishedChecks.Uncertainty;

/// <summary>JCGM 100:2008, H.2: resistance, reactance and impedance from five simultaneous readings of voltage, current and phase, which
/// are correlated.</summary>
public sealed class GumH2SimultaneousReadingsChecks
{
    private static readonly double[] Voltage = [5.007, 4.994, 5.005, 4.990, 4.999];
    private static readonly double[] Current = [19.663e-3, 19.639e-3, 19.640e-3, 19.685e-3, 19.678e-3];
    private static readonly double[] Phase = [1.0456, 1.0438, 1.0468, 1.0428, 1.0433];

    private static readonly Measured[] Inputs =
        CorrelatedInputs.FromReadings("five readings", [(Voltage, "V"), (Current, "A"), (Phase, "rad")]);

    [Fact]
    public void Means_uncertainties_and_correlations()
    {
        Measured v = Inputs[0], i = Inputs[1], phi = Inputs[2];
        Assert.Equal(4.9990, v.Value, 5e-5);
        Assert.Equal(0.0032, v.StandardUncertainty!.Value, 5e-5);
        Assert.Equal(19.6610e-3, i.Value, 5e-8);
        Assert.Equal(0.0095e-3, i.StandardUncertainty!.Value, 5e-8);
        Assert.Equal(1.04446, phi.Value, 5e-6);
        Assert.Equal(0.00075, phi.StandardUncertainty!.Value, 5e-6);
        Assert.Equal(-0.36, CorrelatedInputs.Correlation(v, i), 0.005);
        Assert.Equal(0.86, CorrelatedInputs.Correlation(v, phi), 0.005);
        Assert.Equal(-0.65, CorrelatedInputs.Correlation(i, phi), 0.005);
    }

    [Fact]
    public void Results_and_their_correlations()
    {
        var (r, x, z) = Results(Inputs);
        Assert.Equal(127.732, r.Value, 5e-4);
        Assert.Equal(0.071, r.StandardUncertainty!.Value, 5e-4);
        Assert.Equal(219.847, x.Value, 5e-4);
        Assert.Equal(254.260, z.Value, 5e-4);
        Assert.Equal(0.236, z.StandardUncertainty!.Value, 5e-4);

        // Printed 0.295 from rounded inputs; unrounded 0.2955817.
        Assert.Equal(0.295, x.StandardUncertainty!.Value, 1e-3);
        Assert.Equal(0.2955817, x.StandardUncertainty.Value, 5e-8);
        Assert.Equal(-0.588, CorrelatedInputs.Correlation(r, x), 1e-3);
        Assert.Equal(-0.485, CorrelatedInputs.Correlation(r, z), 1e-3);
        Assert.Equal(0.993, CorrelatedInputs.Correlation(x, z), 1e-3);
    }

    [Fact]
    public void Without_the_correlations_the_result_is_wrong()
    {
        var alone =
            Inputs.Select((m, k) =>
            Measured.From(m.Value, m.Unit, [new(new InfluenceSource($"alone/{k}", 4), m.StandardUncertainty!.Value)])).ToArray();
        var (r, x, z) = Results(alone);
        Assert.Equal(0.1945, r.StandardUncertainty!.Value, 5e-5);
        Assert.Equal(0.2009, x.StandardUncertainty!.Value, 5e-5);
        Assert.Equal(0.2041, z.StandardUncertainty!.Value, 5e-5);
        Assert.True(Math.Abs(r.StandardUncertainty.Value - 0.071) > 0.1);
    }

    [Fact]
    public void The_same_readings_as_a_power_meter()
    {
        // P = V·I·cos φ = 0.0493755 W, u 6.0049e-5 W with and 7.5202e-5 W without the correlations (worked out elsewhere).
        Measured P(Measured[] m)
        {
            double v = m[0].Value, i = m[1].Value, c = Math.Cos(m[2].Value), s = Math.Sin(m[2].Value);
            return Measured.Combine(v * i * c, "W", (i * c, m[0]), (v * c, m[1]), (-v * i * s, m[2]));
        }

        Assert.Equal(0.0493755, P(Inputs).Value, 5e-8);
        Assert.Equal(6.0049e-5, P(Inputs).StandardUncertainty!.Value, 5e-10);
        var alone =
            Inputs.Select((m, k) =>
            Measured.From(m.Value, m.Unit, [new(new InfluenceSource($"alone/{k}", 4), m.StandardUncertainty!.Value)])).ToArray();
        Assert.Equal(7.5202e-5, P(alone).StandardUncertainty!.Value, 5e-10);
    }

    [Fact]
    public void The_formula_for_degrees_of_freedom_is_not_used_as_if_they_were_independent()
    {
        // Five readings taken together leave four degrees of freedom, whatever is worked out from them; and the reader is told.
        var (r, _, _) = Results(Inputs);
        Assert.Equal(4, r.DegreesOfFreedom!.Value, 1e-9);
        Assert.NotNull(CoverageFactor.Warning(r));
    }

    private static (Measured R, Measured X, Measured Z) Results(Measured[] m)
    {
        double v = m[0].Value, i = m[1].Value, c = Math.Cos(m[2].Value), s = Math.Sin(m[2].Value), z = v / i;
        return (
            Measured.Combine(z * c, "Ω", (c / i, m[0]), (-z * c / i, m[1]), (-z * s, m[2])),
            Measured.Combine(z * s, "Ω", (s / i, m[0]), (-z * s / i, m[1]), (z * c, m[2])),
            Measured.Combine(z, "Ω", (1 / i, m[0]), (-z / i, m[1])));
    }
}
