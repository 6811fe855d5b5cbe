using System.Numerics;
using System.Text.Json.Serialization;

namespace ChargeAudit.Coils;

/// <summary>Where capacitors are.</summary>
public enum Compensation
{
    /// <summary>None: a loosely coupled transformer as it is.</summary>
    [JsonStringEnumMemberName("none")] None,

    /// <summary>In series with each coil.</summary>
    [JsonStringEnumMemberName("series-series")] SeriesSeries,

    /// <summary>In series with the driven coil, in parallel with the receiving one and the load.</summary>
    [JsonStringEnumMemberName("series-parallel")] SeriesParallel,
}

/// <summary>
/// Two coupled coils with their capacitors: what the drive sees and what the load gets, at any frequency, in closed form by the reflected
/// impedance. The coils' resistances are those at the link's own frequency. <i>Source:</i> standard circuit theory of coupled coils.
/// </summary>
public sealed record CompensatedLink
{
    private CompensatedLink(CoilLink link, Compensation kind, double primaryF, double secondaryF) =>
        (Link, Kind, PrimaryF, SecondaryF) = (link, kind, primaryF, secondaryF);

    /// <summary>The coils.</summary>
    public CoilLink Link { get; }

    /// <summary>Where the capacitors are.</summary>
    public Compensation Kind { get; }

    /// <summary>Capacitor at the driven coil; positive infinity: none. [F]</summary>
    public double PrimaryF { get; }

    /// <summary>Capacitor at the receiving coil; in series positive infinity, in parallel zero: none. [F]</summary>
    public double SecondaryF { get; }

    /// <summary>No capacitors.</summary>
    /// <param name="link">The coils.</param>
    /// <returns>The circuit.</returns>
    public static CompensatedLink Uncompensated(CoilLink link) =>
        new(link, Compensation.None, double.PositiveInfinity, double.PositiveInfinity);

    /// <summary>Each coil in series resonance at the link's frequency.</summary>
    /// <param name="link">The coils.</param>
    /// <returns>The circuit.</returns>
    public static CompensatedLink SeriesSeries(CoilLink link)
    {
        ArgumentNullException.ThrowIfNull(link);
        return SeriesSeries(link, Resonance.CapacitanceF(link.PrimaryH, link.FrequencyHz),
            Resonance.CapacitanceF(link.SecondaryH, link.FrequencyHz));
    }

    /// <summary>Given capacitors in series.</summary>
    /// <param name="link">The coils.</param>
    /// <param name="primaryF">At the driven coil. [F]</param>
    /// <param name="secondaryF">At the receiving coil. [F]</param>
    /// <returns>The circuit.</returns>
    public static CompensatedLink SeriesSeries(CoilLink link, double primaryF, double secondaryF) =>
        new(link, Compensation.SeriesSeries, primaryF, secondaryF);

    /// <summary>
    /// Series–parallel with the capacitor that, together with its best load, makes the secondary loop purely resistive: q = Q₂/√(1 + U²),
    /// C₂ = q/(ωR). The primary capacitor then removes the driven coil's own reactance.
    /// </summary>
    /// <param name="link">The coils.</param>
    /// <returns>The circuit.</returns>
    public static CompensatedLink SeriesParallel(CoilLink link)
    {
        ArgumentNullException.ThrowIfNull(link);
        double root = Math.Sqrt(1 + (link.FigureOfMerit * link.FigureOfMerit));
        double q = link.SecondaryQ / root;
        double loadOhm = link.SecondaryOhm * root * (1 + (q * q));
        return SeriesParallel(link, Resonance.CapacitanceF(link.PrimaryH, link.FrequencyHz), q / (link.Omega * loadOhm));
    }

    /// <summary>Given capacitors, in series and in parallel.</summary>
    /// <param name="link">The coils.</param>
    /// <param name="primaryF">In series with the driven coil. [F]</param>
    /// <param name="secondaryF">In parallel with the receiving coil. [F]</param>
    /// <returns>The circuit.</returns>
    public static CompensatedLink SeriesParallel(CoilLink link, double primaryF, double secondaryF) =>
        new(link, Compensation.SeriesParallel, primaryF, secondaryF);

    /// <summary>The load with the best efficiency at the link's frequency, in closed form for the capacitors that are there.</summary>
    public double BestLoadOhm
    {
        get
        {
            double r1 = Link.PrimaryOhm;
            double r2 = Link.SecondaryOhm;
            double mutual = Link.MutualOhm * Link.MutualOhm;
            double reactance = Link.Omega * Link.SecondaryH;
            if (Kind != Compensation.SeriesParallel)
            {
                reactance += SeriesReactance(SecondaryF, Link.Omega);
                return Math.Sqrt((r2 * r2) + (reactance * reactance) + (mutual * r2 / r1));
            }

            // Efficiency over the load's conductance G is (ωM)²·G/(a·G² + b·G + c); its maximum lies at G² = c/a.
            double susceptance = Link.Omega * SecondaryF;
            double a = (r1 * ((r2 * r2) + (reactance * reactance))) + (mutual * r2);
            double rest = 1 - (reactance * susceptance);
            double c = (r1 * ((rest * rest) + (r2 * r2 * susceptance * susceptance))) + (mutual * r2 * susceptance * susceptance);
            return Math.Sqrt(a / c);
        }
    }

    /// <summary>Impedance that the drive sees.</summary>
    /// <param name="frequencyHz">Frequency, above 0. [Hz]</param>
    /// <param name="loadOhm">Load; 0 for a short, positive infinity for none. [Ω]</param>
    /// <returns>Impedance. [Ω]</returns>
    public Complex InputImpedance(double frequencyHz, double loadOhm) => Solve(frequencyHz, loadOhm).Input;

    /// <summary>Phase of the input impedance: above zero where the current lags.</summary>
    /// <param name="frequencyHz">Frequency. [Hz]</param>
    /// <param name="loadOhm">Load. [Ω]</param>
    /// <returns>Phase. [°]</returns>
    public double InputPhaseDegrees(double frequencyHz, double loadOhm) => InputImpedance(frequencyHz, loadOhm).Phase * 180 / Math.PI;

    /// <summary>Efficiency from the driven coil's terminals to the load.</summary>
    /// <param name="frequencyHz">Frequency. [Hz]</param>
    /// <param name="loadOhm">Load. [Ω]</param>
    /// <returns>Efficiency, 0 to 1; 0 with no load or a short. [1]</returns>
    public double Efficiency(double frequencyHz, double loadOhm)
    {
        Solution s = Solve(frequencyHz, loadOhm);
        return s.LoadPowerPerVoltSquared / (s.Input.Real / s.Input.Magnitude / s.Input.Magnitude);
    }

    /// <summary>Voltage at the load for one volt at the input.</summary>
    /// <param name="frequencyHz">Frequency. [Hz]</param>
    /// <param name="loadOhm">Load. [Ω]</param>
    /// <returns>Ratio with its phase. [1]</returns>
    public Complex VoltageTransfer(double frequencyHz, double loadOhm) => Solve(frequencyHz, loadOhm).LoadVoltage;

    /// <summary>Power in the load for one volt (RMS) at the input.</summary>
    /// <param name="frequencyHz">Frequency. [Hz]</param>
    /// <param name="loadOhm">Load. [Ω]</param>
    /// <returns>Power. [W/V²]</returns>
    public double LoadPower(double frequencyHz, double loadOhm) => Solve(frequencyHz, loadOhm).LoadPowerPerVoltSquared;

    private static double SeriesReactance(double capacitanceF, double omega) => double.IsPositiveInfinity(capacitanceF)
        ? 0
        : -1 / (omega * capacitanceF);

    private Solution Solve(double frequencyHz, double loadOhm)
    {
        double omega = 2 * Math.PI * frequencyHz;
        Complex primary = new(Link.PrimaryOhm, (omega * Link.PrimaryH) + SeriesReactance(PrimaryF, omega));
        Complex coil = new(Link.SecondaryOhm, omega * Link.SecondaryH);
        Complex mutual = new(0, omega * Link.MutualH);
        if (Kind != Compensation.SeriesParallel && double.IsPositiveInfinity(loadOhm))
        {
            return new Solution(primary, mutual / primary, 0);
        }

        Complex load = loadOhm;
        if (Kind == Compensation.SeriesParallel)
        {
            Complex admittance = new(1 / loadOhm, omega * SecondaryF);
            load = loadOhm == 0 ? Complex.Zero : 1 / admittance;
        }

        Complex secondary = coil + load
            + (Kind == Compensation.SeriesSeries ? new Complex(0, SeriesReactance(SecondaryF, omega)) : Complex.Zero);
        Complex input = primary - (mutual * mutual / secondary);
        Complex secondaryA = mutual / (input * secondary);
        Complex voltage = secondaryA * load;
        // Kept as current times resistance in series, voltage over resistance in parallel: both stay finite at a short and at no load.
        double power = Kind == Compensation.SeriesParallel
            ? loadOhm == 0 ? 0 : voltage.Magnitude * voltage.Magnitude / loadOhm
            : secondaryA.Magnitude * secondaryA.Magnitude * loadOhm;
        return new Solution(input, voltage, power);
    }

    private readonly record struct Solution(Complex Input, Complex LoadVoltage, double LoadPowerPerVoltSquared);
}
