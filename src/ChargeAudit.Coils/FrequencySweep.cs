namespace ChargeAudit.Coils;

/// <summary>A compensated link at one frequency.</summary>
/// <param name="FrequencyHz">Frequency. [Hz]</param>
/// <param name="InputOhm">Magnitude of the input impedance. [Ω]</param>
/// <param name="InputPhaseDegrees">Its phase; above zero the current lags. [°]</param>
/// <param name="Efficiency">From the driven coil's terminals to the load. [1]</param>
/// <param name="VoltageTransfer">Load voltage over input voltage. [1]</param>
/// <param name="LoadPower">Power in the load for one volt (RMS) at the input. [W/V²]</param>
public readonly record struct SweepPoint(double FrequencyHz, double InputOhm, double InputPhaseDegrees, double Efficiency,
    double VoltageTransfer, double LoadPower);

/// <summary>
/// A compensated link over frequency. Where the coupling is tight for the load, the one peak of the load's power at a given input voltage
/// splits in two, on either side of the resonance; tighter still, the input phase crosses zero three times.
/// </summary>
public sealed record FrequencySweep
{
    private const int UsualPoints = 801;

    // Losses move a peak from where it would be without them, by a few per cent.
    private const double BeyondPeak = 1.2;

    private FrequencySweep(CompensatedLink circuit, double loadOhm, IReadOnlyList<SweepPoint> points, IReadOnlyList<double> peaksHz,
        IReadOnlyList<double> zeroPhaseHz) =>
        (Circuit, LoadOhm, Points, PeaksHz, ZeroPhaseHz) = (circuit, loadOhm, points, peaksHz, zeroPhaseHz);

    /// <summary>The circuit.</summary>
    public CompensatedLink Circuit { get; }

    /// <summary>The load. [Ω]</summary>
    public double LoadOhm { get; }

    /// <summary>Points with evenly spaced logarithms of frequency.</summary>
    public IReadOnlyList<SweepPoint> Points { get; }

    /// <summary>Frequencies at which the load's power has a peak. [Hz]</summary>
    public IReadOnlyList<double> PeaksHz { get; }

    /// <summary>Frequencies at which the input is purely resistive. [Hz]</summary>
    public IReadOnlyList<double> ZeroPhaseHz { get; }

    /// <summary>Whether the peak is split.</summary>
    public bool IsSplit => PeaksHz.Count > 1;

    /// <summary>
    /// Sweeps coils with capacitors in series from half to twice the operating frequency, and as far beyond as the peaks can lie: with no
    /// losses they are where (1 − k²)·x² − (f₁² + f₂²)·x + f₁²·f₂² = 0 with x = f² (f₁ and f₂ the resonances of each side alone; f₀/√(1 ±
    /// k) where they agree). <i>Source:</i> standard circuit theory of coupled coils.
    /// </summary>
    /// <param name="circuit">The circuit, with a capacitor in series at each side.</param>
    /// <param name="loadOhm">The load, above 0 and finite. [Ω]</param>
    /// <returns>The sweep.</returns>
    public static FrequencySweep OfSeriesSeries(CompensatedLink circuit, double loadOhm)
    {
        ArgumentNullException.ThrowIfNull(circuit);
        double first = Math.Pow(Resonance.FrequencyHz(circuit.Link.PrimaryH, circuit.PrimaryF), 2);
        double second = Math.Pow(Resonance.FrequencyHz(circuit.Link.SecondaryH, circuit.SecondaryF), 2);
        double apart = 1 - (circuit.Link.Coupling * circuit.Link.Coupling);
        double middle = (first + second) / 2;
        double root = Math.Sqrt((middle * middle) - (apart * first * second));
        double upperHz = Math.Sqrt((middle + root) / apart), lowerHz = Math.Sqrt(first * second / (middle + root));
        double fromHz = Math.Min(circuit.Link.FrequencyHz / 2, lowerHz / BeyondPeak),
            toHz = Math.Max(circuit.Link.FrequencyHz * 2, upperHz * BeyondPeak);
        return Over(circuit, loadOhm, fromHz, toHz,
            Math.Max(UsualPoints, 1 + (int)Math.Ceiling(Math.Log(toHz / fromHz) / Math.Log(4) * (UsualPoints - 1))));
    }

    /// <summary>Sweeps a circuit.</summary>
    /// <param name="circuit">The circuit.</param>
    /// <param name="loadOhm">The load, above 0 and finite. [Ω]</param>
    /// <param name="fromHz">Lowest frequency, above 0. [Hz]</param>
    /// <param name="toHz">Highest frequency, above the lowest. [Hz]</param>
    /// <param name="count">Number of points, 3 or more.</param>
    /// <returns>The sweep.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The range or the count is not as described.</exception>
    public static FrequencySweep Over(CompensatedLink circuit, double loadOhm, double fromHz, double toHz, int count = UsualPoints)
    {
        ArgumentNullException.ThrowIfNull(circuit);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(fromHz);
        ArgumentOutOfRangeException.ThrowIfLessThanOrEqual(toHz, fromHz);
        ArgumentOutOfRangeException.ThrowIfLessThan(count, 3);
        double step = Math.Log(toHz / fromHz) / (count - 1);
        SweepPoint[] points = [.. Enumerable.Range(0, count).Select(i => Point(circuit, loadOhm, fromHz * Math.Exp(i * step)))];
        List<double> peaks = [];
        List<double> zeros = [];
        int signed = 0;
        for (int i = 1; i < count; i++)
        {
            if (i < count - 1 && points[i].LoadPower > points[i - 1].LoadPower && points[i].LoadPower >= points[i + 1].LoadPower)
            {
                peaks.Add(Peak(f => circuit.LoadPower(f, loadOhm), points[i - 1].FrequencyHz, points[i + 1].FrequencyHz));
            }

            // A point may lie right on a crossing, the middle one often does; it has no sign and must not count twice.
            if (points[i].InputPhaseDegrees != 0)
            {
                if (points[signed].InputPhaseDegrees * points[i].InputPhaseDegrees < 0)
                {
                    zeros.Add(Zero(f => circuit.InputPhaseDegrees(f, loadOhm), points[signed].FrequencyHz, points[i].FrequencyHz));
                }

                signed = i;
            }
        }

        return new FrequencySweep(circuit, loadOhm, points, peaks, zeros);
    }

    private static SweepPoint Point(CompensatedLink circuit, double loadOhm, double frequencyHz)
    {
        System.Numerics.Complex input = circuit.InputImpedance(frequencyHz, loadOhm);
        return new SweepPoint(
            frequencyHz,
            input.Magnitude,
            input.Phase * 180 / Math.PI,
            circuit.Efficiency(frequencyHz, loadOhm),
            circuit.VoltageTransfer(frequencyHz, loadOhm).Magnitude,
            circuit.LoadPower(frequencyHz, loadOhm));
    }

    /// <summary>Golden-section search.</summary>
    private static double Peak(Func<double, double> value, double low, double high)
    {
        const double Golden = 0.6180339887498949;
        for (int i = 0; i < 60; i++)
        {
            double left = high - (Golden * (high - low));
            double right = low + (Golden * (high - low));
            (low, high) = value(left) > value(right) ? (low, right) : (left, high);
        }

        return (low + high) / 2;
    }

    /// <summary>Bisection.</summary>
    private static double Zero(Func<double, double> value, double low, double high)
    {
        bool lowNegative = value(low) < 0;
        for (int i = 0; i < 60; i++)
        {
            double middle = (low + high) / 2;
            (low, high) = value(middle) < 0 == lowNegative ? (middle, high) : (low, middle);
        }

        return (low + high) / 2;
    }
}
