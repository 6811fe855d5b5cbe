namespace ChargeAudit.Pooling.RandomEffects;

/// <summary>The mean over devices.</summary>
/// <param name="Mean">The weighted mean.</param>
/// <param name="StandardUncertainty">Its standard uncertainty from the scatter that is seen between devices.</param>
/// <param name="DegreesOfFreedom">Degrees of freedom of that. [1]</param>
/// <param name="SpreadVariance">τ² that the weights rest on.</param>
/// <param name="Weights">Share of each estimate in the mean. [1]</param>
public sealed record PooledMean(double Mean, double StandardUncertainty, double DegreesOfFreedom, double SpreadVariance,
    IReadOnlyList<double> Weights)
{
    /// <summary>
    /// The mean with the variance of Hartung and Knapp: that of the weighted mean times Q by its degrees of freedom, with Student's t. What
    /// all devices share is not seen in their scatter; it is left out of the covariance and added afterwards. <i>Source:</i> J. Hartung, G.
    /// Knapp, Statistics in Medicine 20 (2001) 3875–3889.
    /// </summary>
    /// <param name="model">The estimates, without what all share.</param>
    /// <param name="spreadVariance">τ².</param>
    public static PooledMean HartungKnapp(SpreadModel model, double spreadVariance)
    {
        double scale = model.Q(spreadVariance) / model.DegreesOfFreedom;
        return new PooledMean(
            model.Mean(spreadVariance),
            Math.Sqrt(scale * model.MeanVariance(spreadVariance)),
            model.DegreesOfFreedom,
            spreadVariance,
            model.Weights(spreadVariance));
    }
}
