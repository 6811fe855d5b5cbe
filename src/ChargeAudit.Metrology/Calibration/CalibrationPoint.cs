namespace ChargeAudit.Metrology.Calibration;

/// <summary>One point of a calibration: what a reference gave, and what the meter showed for it.</summary>
/// <param name="Reference">The reference's value. [coherent unit]</param>
/// <param name="Reading">The meter's reading. [coherent unit]</param>
/// <param name="StandardUncertainty">Standard uncertainty of their difference; zero where none is stated. [coherent unit]</param>
public readonly record struct CalibrationPoint(double Reference, double Reading, double StandardUncertainty)
{
    /// <summary>What has to be added to the reading. [coherent unit]</summary>
    public double Correction => Reference - Reading;
}
