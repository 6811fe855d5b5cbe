using ChargeAudit.Logs;
using ChargeAudit.Measuring.Integration;

namespace ChargeAudit.Measuring.Standby;

/// <summary>Readings of a charger that waits, equally spaced in time. Immutable.</summary>
/// <param name="IntervalS">Time between readings, above 0. [s]</param>
/// <param name="PowerW">Readings in order. [W]</param>
/// <param name="Kind">What a reading stands for.</param>
/// <param name="Point">Where the meter sat; null where it was not stated.</param>
public sealed record StandbySamples(double IntervalS, IReadOnlyList<double> PowerW, SampleKind Kind, MeasuringPoint? Point)
{
    /// <summary>Time from the first reading to one interval after the last. [s]</summary>
    public double TotalS => IntervalS * PowerW.Count;

    /// <summary>Readings of a stretch of a log, one per cell of its envelope; a cell without time takes the value of the one
    /// before.</summary>
    /// <param name="envelope">Power over time.</param>
    /// <param name="fromS">Start. [s]</param>
    /// <param name="toS">End. [s]</param>
    /// <param name="kind">What a reading of the log stands for.</param>
    /// <param name="point">Where the meter sat; null where it was not stated.</param>
    public static StandbySamples Of(PowerEnvelope envelope, double fromS, double toS, SampleKind kind, MeasuringPoint? point)
    {
        var power = new List<double>();
        for (int i = 0; i < envelope.Count; i++)
        {
            if (envelope.StartS(i) < fromS || envelope.StartS(i) + (0.5 * envelope.BucketWidthS) >= toS)
            {
                continue;
            }

            double mean = envelope[i].MeanPowerW;
            if (!double.IsNaN(mean))
            {
                power.Add(mean);
            }
            else if (power.Count > 0)
            {
                power.Add(power[^1]);
            }
        }

        return new StandbySamples(envelope.BucketWidthS, power, kind, point);
    }
}
