namespace ChargeAudit.Coils;

/// <summary>Resonance of an inductance with a capacitance, frequency or capacitance from the other and the inductance. <i>Source:</i> W.
/// Thomson's formula, ω²·L·C = 1.</summary>
public static class Resonance
{
    /// <summary>Frequency of resonance.</summary>
    /// <param name="inductanceH">Inductance, above 0. [H]</param>
    /// <param name="capacitanceF">Capacitance, above 0. [F]</param>
    /// <returns>Frequency. [Hz]</returns>
    public static double FrequencyHz(double inductanceH, double capacitanceF) => 1 / (2 * Math.PI * Math.Sqrt(inductanceH * capacitanceF));

    /// <summary>Capacitance that resonates with an inductance.</summary>
    /// <param name="inductanceH">Inductance, above 0. [H]</param>
    /// <param name="frequencyHz">Frequency, above 0. [Hz]</param>
    /// <returns>Capacitance. [F]</returns>
    public static double CapacitanceF(double inductanceH, double frequencyHz)
    {
        double omega = 2 * Math.PI * frequencyHz;
        return 1 / (omega * omega * inductanceH);
    }
}
