namespace ChargeAudit.Pooling.Results;

/// <summary>One figure over devices, with one charger or with all of them.</summary>
/// <param name="Figure">Which.</param>
/// <param name="Charger">The charger; null: all together, each device by the mean over its chargers.</param>
/// <param name="Unit">Unit of the values; <c>1</c> for a ratio.</param>
/// <param name="Devices">Each device by itself.</param>
/// <param name="Answer">The devices together; null where there are too few, or the uncertainty of one is not known.</param>
/// <param name="WhyNot">Why there is no answer; null where there is one.</param>
public sealed record PooledFigure(
    PoolFigure Figure, string? Charger, string Unit, IReadOnlyList<PooledDevice> Devices, PooledAnswer? Answer, string? WhyNot)
{
    /// <summary>Audits whose figure is missing, with the reason.</summary>
    public IReadOnlyList<string> Missing { get; init; } = [];
}

/// <summary>A value with the interval that holds the truth in 95 of 100 cases.</summary>
/// <param name="Value">The value, in the figure's unit.</param>
/// <param name="Low">Lower end; null where the uncertainty is not known.</param>
/// <param name="High">Upper end.</param>
public sealed record PooledValue(double Value, double? Low, double? High);

/// <summary>A device of a pool.</summary>
/// <param name="Name">Its name.</param>
/// <param name="Audits">Files of its audits.</param>
/// <param name="Own">Its figure by its own audits, with their uncertainty.</param>
/// <param name="Weight">Its share in the mean; null where there is none. [1]</param>
/// <param name="MeanWithout">The mean without it; null where too few would be left.</param>
/// <param name="Influence">How far the mean moves when it is left out, in standard uncertainties of the rest. [1]</param>
public sealed record PooledDevice(string Name, IReadOnlyList<string> Audits, PooledValue Own, double? Weight, PooledValue? MeanWithout,
    double? Influence);

/// <summary>The answer for all devices together.</summary>
/// <param name="Mean">The mean over devices; of ratios and energies the geometric mean.</param>
/// <param name="MeanU">Its standard uncertainty; of a logarithm where the figure is pooled as one.</param>
/// <param name="MeanDegreesOfFreedom">Degrees of freedom of the scatter between devices. [1]</param>
/// <param name="Spread">How the true values scatter between devices.</param>
/// <param name="AnotherDevice">Interval for the true value of another device of the kind.</param>
/// <param name="NextMeasurement">Interval for what the next audit of another device will find, with instruments as good as these.</param>
/// <param name="Shares">What the variance of the mean consists of.</param>
public sealed record PooledAnswer(
    PooledValue Mean,
    double MeanU,
    double MeanDegreesOfFreedom,
    DeviceSpread Spread,
    PooledValue AnotherDevice,
    PooledValue NextMeasurement,
    IReadOnlyList<VarianceShare> Shares);

/// <summary>The spread between devices as a standard deviation: in the figure's unit, or as a share of the value where it is pooled as a
/// logarithm.</summary>
/// <param name="Reml">By restricted maximum likelihood.</param>
/// <param name="PauleMandel">By Paule and Mandel.</param>
/// <param name="Low">Lower end of the interval by the profile of Q.</param>
/// <param name="High">Upper end.</param>
/// <param name="Q">Weighted sum of squares without a spread. [1]</param>
/// <param name="DegreesOfFreedom">Its degrees of freedom. [1]</param>
public sealed record DeviceSpread(double Reml, double PauleMandel, double Low, double High, double Q, double DegreesOfFreedom);

/// <summary>A part of the variance of the mean.</summary>
/// <param name="What">What brings it: the devices' own spread, or the owner and kind of the errors.</param>
/// <param name="Share">Its share, 0 to 1. [1]</param>
/// <param name="SharedByAll">Whether all devices share it, so that no further device makes it smaller.</param>
public sealed record VarianceShare(string What, double Share, bool SharedByAll);
