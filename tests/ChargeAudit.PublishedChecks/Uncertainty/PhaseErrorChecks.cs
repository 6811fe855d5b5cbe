using System.Numerics;
using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.PublishedChecks.Uncertainty;

/// <summary>
/// The error of real power by a meter's phase error: hand calculation and a simulation with complex powers. <i>Source:</i> elementary;
/// P = Re(V·I*), so a phase error δ of the current channel turns the complex power by δ.
/// </summary>
public class PhaseErrorChecks
{
    // By hand: tan(arccos 0.5) = √3; tan(arccos 0.8) = 0.75; tan(arccos 0.6) = 4/3; tan(arccos 0.3) = √0.91/0.3. One degree is 0.0174533.
    [Theory]
    [InlineData(0.5, 0.0302300)]
    [InlineData(0.8, 0.0130900)]
    [InlineData(0.6, 0.0232711)]
    [InlineData(0.3, 0.0554981)]
    [InlineData(1.0, 0)]
    public void One_degree_changes_power_by_the_tangent(double powerFactor, double share)
    {
        double nonActive = PhaseError.Tangent(powerFactor);
        double secondOrder = 0.5 * Math.Pow(Math.PI / 180, 2);
        Assert.Equal(share + secondOrder, PhaseError.HalfWidthJ(1, nonActive, Math.PI / 180), 6);
    }

    // Every error within the limit stays within the half-width, and the greatest one reaches it to the second order.
    [Theory]
    [InlineData(1.0)]
    [InlineData(0.99)]
    [InlineData(0.7)]
    [InlineData(0.35)]
    [InlineData(0.1)]
    public void Complex_powers_turned_by_the_error_stay_within_it(double powerFactor)
    {
        const double limit = 0.01;
        var power = Complex.FromPolarCoordinates(100, Math.Acos(powerFactor));
        double greatest = 0;
        for (int i = -50; i <= 50; i++)
        {
            double read = (power * Complex.FromPolarCoordinates(1, limit * i / 50)).Real;
            greatest = Math.Max(greatest, Math.Abs(read - power.Real));
        }

        double halfWidth = PhaseError.HalfWidthJ(power.Real, Math.Abs(power.Imaginary), limit);
        Assert.InRange(greatest, halfWidth - (power.Real * limit * limit), halfWidth + 1e-9);
    }

    // A rectifier: current pulses of 2 ms at the peak of the voltage, 0.5 ms early. All harmonics, by slices of the period; the channel
    // delays the current, so every harmonic turns by its order times δ, and only the fundamental meets a voltage.
    [Theory]
    [InlineData(0.002)]
    [InlineData(0.01)]
    public void A_distorted_current_errs_by_less_than_its_power_factor_says(double delta)
    {
        const int slices = 200_000;
        double Voltage(double t) => Math.Sqrt(2) * 230 * Math.Sin(2 * Math.PI * 50 * t);
        double Current(double t)
        {
            double inPeriod = t - (0.02 * Math.Floor(t / 0.02));
            return inPeriod is > 0.0035 and < 0.0055 ? 0.3 : inPeriod is > 0.0135 and < 0.0155 ? -0.3 : 0;
        }

        double real = 0, read = 0, squaredA = 0;
        for (int i = 0; i < slices; i++)
        {
            double t = 0.02 * (i + 0.5) / slices;
            real += Voltage(t) * Current(t) / slices;
            read += Voltage(t) * Current(t - (delta / (2 * Math.PI * 50))) / slices;
            squaredA += Current(t) * Current(t) / slices;
        }

        double apparent = 230 * Math.Sqrt(squaredA), nonActive = Math.Sqrt((apparent * apparent) - (real * real));
        Assert.InRange(real / apparent, 0.4, 0.65);
        Assert.InRange(Math.Abs(read - real), 1e-6, PhaseError.HalfWidthJ(real, nonActive, delta));
    }

    // A class of 1 % at a power factor of one and of 2 % at 0.5: by hand the phase has √(2² − 1²) % / √3 = 1 % = 0.01 rad.
    [Fact]
    public void An_accuracy_at_a_power_factor_is_one_of_phase_beyond_the_gain()
    {
        Assert.True(PhaseAccuracy.TryParse("2 % at power factor 0.5", out var phase, out _));
        var gain = MeterAccuracy.Parse("1 %", ChargeAudit.Metrology.LogQuantity.Power);
        Assert.Equal(0.01, phase.HalfWidthRad(gain), 12);
        Assert.Equal(0.02 / Math.Sqrt(3), phase.HalfWidthRad(null), 12);
    }
}
