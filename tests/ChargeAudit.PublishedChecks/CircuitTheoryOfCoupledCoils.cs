using System.Numerics;
using ChargeAudit.Coils;
using MathNet.Numerics.LinearAlgebra;
using ComplexVector = MathNet.Numerics.LinearAlgebra.Vector<System.Numerics.Complex>;

namespace ChargeAudit.PublishedChecks;

/// <summary>
/// Standard circuit theory of two coupled coils: L₁ 24 µH, L₂ 12 µH, k 0.4, 127.7 kHz, Q 100 and 40. Values worked out in Python from the
/// textbook formulas; and the mesh equations solved as a complex linear system with a general-purpose library, which knows nothing of
/// reflected impedances.
/// </summary>
public sealed class CircuitTheoryOfCoupledCoils
{
    private static readonly CoilLink Link = new()
    {
        PrimaryH = 24e-6,
        SecondaryH = 12e-6,
        Coupling = 0.4,
        PrimaryQ = 100,
        SecondaryQ = 40,
        FrequencyHz = 127.7e3,
    };

    [Fact]
    public void Mutual_inductance_and_resistances()
    {
        // Six or seven digits are given.
        Assert.Equal(6.788225e-6, Link.MutualH, 5e-13);
        Assert.Equal(5.446619, Link.MutualOhm, 5e-7);
        Assert.Equal(0.192567, Link.PrimaryOhm, 5e-7);
        Assert.Equal(0.240709, Link.SecondaryOhm, 5e-7);
        Assert.Equal(640, Link.FigureOfMerit * Link.FigureOfMerit, 1e-10);
    }

    [Fact]
    public void Series_series_compensation()
    {
        CompensatedLink circuit = CompensatedLink.SeriesSeries(Link);
        Assert.Equal(64.7213e-9, circuit.PrimaryF, 5e-14);
        Assert.Equal(129.4426e-9, circuit.SecondaryF, 5e-14);
        Assert.Equal(6.094261, circuit.BestLoadOhm, 5e-7);
        Assert.Equal(0.924006319, circuit.Efficiency(127.7e3, circuit.BestLoadOhm), 5e-10);
        Assert.Equal(0.924006319, Link.MaximumEfficiency, 5e-10);
        // At resonance the drive sees r₁ and the reflected resistance only.
        Complex input = circuit.InputImpedance(127.7e3, circuit.BestLoadOhm);
        Assert.Equal(4.682842, input.Real - Link.PrimaryOhm, 5e-7);
        Assert.Equal(0, input.Imaginary, 1e-12);
    }

    [Theory]
    [InlineData(6.094261 / 2, 0.907422)]
    [InlineData(6.094261 * 2, 0.907422)]
    [InlineData(1, 0.799551)]
    [InlineData(5, 0.922681)]
    [InlineData(10, 0.915629)]
    [InlineData(20, 0.873359)]
    public void Series_series_efficiency_over_the_load(double loadOhm, double expected) =>
        Assert.Equal(expected, CompensatedLink.SeriesSeries(Link).Efficiency(127.7e3, loadOhm), 5e-7);

    [Fact]
    public void Series_parallel_compensation()
    {
        CompensatedLink circuit = CompensatedLink.SeriesParallel(Link);
        Assert.Equal(21.306144, circuit.BestLoadOhm, 5e-7);
        Assert.Equal(92.41774e-9, circuit.SecondaryF, 5e-15);
        Assert.Equal(0.924006319, circuit.Efficiency(127.7e3, circuit.BestLoadOhm), 5e-10);
        // The secondary loop is purely resistive, so what it reflects is too.
        Assert.Equal(0, circuit.InputImpedance(127.7e3, circuit.BestLoadOhm).Imaginary, 1e-12);
    }

    [Fact]
    public void Series_parallel_with_the_capacitor_of_plain_resonance_is_worse()
    {
        double capacitanceF = Resonance.CapacitanceF(12e-6, 127.7e3);
        CompensatedLink circuit = CompensatedLink.SeriesParallel(Link, Resonance.CapacitanceF(24e-6, 127.7e3), capacitanceF);
        Assert.Equal(0.911776, circuit.Efficiency(127.7e3, 17.99), 5e-7);
        // The given load was found by a search over steps: the peak is so flat that 0.1 % of load is 2e-8 of efficiency. A finer search
        // gives 18.003.
        Assert.Equal(17.99, circuit.BestLoadOhm, 0.02);
        Assert.Equal(0.911776, circuit.Efficiency(127.7e3, circuit.BestLoadOhm), 5e-7);
    }

    [Fact]
    public void The_T_equivalent_circuit()
    {
        Assert.Equal(17.211775e-6, Link.T.PrimaryArmH, 5e-13);
        Assert.Equal(5.211775e-6, Link.T.SecondaryArmH, 5e-13);
        Assert.Equal(6.788225e-6, Link.T.ShuntH, 5e-13);
        Assert.True((Link with { Coupling = 0.9, SecondaryH = 6e-6 }).T.SecondaryArmH < 0, "an arm goes negative where M exceeds L");
    }

    /// <summary>The T-equivalent, as a ladder of impedances, has the input impedance of the coupled coils.</summary>
    [Fact]
    public void The_T_equivalent_behaves_like_the_coils()
    {
        const double Load = 8;
        double omega = Link.Omega;
        Complex right = new Complex(Link.SecondaryOhm + Load, omega * Link.T.SecondaryArmH);
        Complex shunt = new Complex(0, omega * Link.T.ShuntH);
        Complex ladder = new Complex(Link.PrimaryOhm, omega * Link.T.PrimaryArmH) + (right * shunt / (right + shunt));
        Complex coils = CompensatedLink.Uncompensated(Link).InputImpedance(127.7e3, Load);
        Assert.Equal(0, (ladder - coils).Magnitude / coils.Magnitude, 1e-14);
    }

    /// <summary>Closed forms and the linear system agree to 1e-9 over compensation, coupling, frequency and load.</summary>
    [Fact]
    public void The_mesh_equations_solved_as_a_linear_system_agree()
    {
        int compared = 0;
        foreach (double coupling in (ReadOnlySpan<double>)[0.01, 0.2, 0.4, 0.9])
        {
            CoilLink link = Link with { Coupling = coupling };
            foreach (CompensatedLink circuit in (CompensatedLink[])[CompensatedLink.Uncompensated(link), CompensatedLink.SeriesSeries(link),
                CompensatedLink.SeriesParallel(link), CompensatedLink.SeriesSeries(link, 50e-9, 200e-9)])
            {
                foreach (double frequency in (ReadOnlySpan<double>)[60e3, 110e3, 127.7e3, 150e3, 300e3])
                {
                    foreach (double load in (ReadOnlySpan<double>)[0.05, 1, 6.1, 21.3, 500])
                    {
                        Compare(circuit, frequency, load);
                        compared++;
                    }
                }
            }
        }

        Assert.Equal(4 * 4 * 5 * 5, compared);
    }

    private static void Compare(CompensatedLink circuit, double frequency, double load)
    {
        (Complex input, Complex loadVoltage, double efficiency) = Mesh(circuit, frequency, load);
        const double Agreement = 1e-9;
        Assert.Equal(0, (circuit.InputImpedance(frequency, load) - input).Magnitude / input.Magnitude, Agreement);
        Assert.Equal(0, (circuit.VoltageTransfer(frequency, load) - loadVoltage).Magnitude / loadVoltage.Magnitude, Agreement);
        Assert.Equal(1, circuit.Efficiency(frequency, load) / efficiency, Agreement);
    }

    /// <summary>Currents of the meshes drive, receiving coil and (in parallel) load, for one volt at the input.</summary>
    private static (Complex Input, Complex LoadVoltage, double Efficiency) Mesh(CompensatedLink circuit, double frequency, double load)
    {
        double omega = 2 * Math.PI * frequency;
        CoilLink link = circuit.Link;
        Complex capacitor1 = circuit.Kind == Compensation.None ? Complex.Zero : 1 / new Complex(0, omega * circuit.PrimaryF);
        Complex capacitor2 = circuit.Kind == Compensation.None ? Complex.Zero : 1 / new Complex(0, omega * circuit.SecondaryF);
        Complex z1 = new Complex(link.PrimaryOhm, omega * link.PrimaryH) + capacitor1;
        Complex z2 = new Complex(link.SecondaryOhm, omega * link.SecondaryH) + capacitor2;
        Complex m = new(0, omega * link.MutualH);
        bool parallel = circuit.Kind == Compensation.SeriesParallel;
        Matrix<Complex> equations = parallel
            ? Matrix<Complex>.Build.DenseOfArray(
                new Complex[,] { { z1, -m, 0 }, { -m, z2, -capacitor2 }, { 0, -capacitor2, capacitor2 + load } })
            : Matrix<Complex>.Build.DenseOfArray(new Complex[,] { { z1, -m }, { -m, z2 + load } });
        ComplexVector drive = ComplexVector.Build.Dense(equations.RowCount);
        drive[0] = 1;
        ComplexVector currents = equations.Solve(drive);
        Complex loadCurrent = currents[equations.RowCount - 1];
        double inputPower = currents[0].Real;
        return (1 / currents[0], loadCurrent * load, loadCurrent.Magnitude * loadCurrent.Magnitude * load / inputPower);
    }
}
