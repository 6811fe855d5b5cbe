using ChargeAudit.Logs;
using ChargeAudit.Measuring;
using ChargeAudit.Metrology;

namespace ChargeAudit.Tests.Measuring.Counting;

/// <summary>The log of a counter alone, of power that is written down second by second.</summary>
internal static class CounterLog
{
    /// <summary>Measures it.</summary>
    /// <param name="power">Power in each second. [W]</param>
    /// <param name="stepWh">Step of the counter. [Wh]</param>
    /// <param name="intervalS">Interval between rows. [s]</param>
    /// <param name="phaseWh">What has flowed since the counter's last step when the log begins. [Wh]</param>
    /// <param name="renewedS">Time between new values, where the counter is read more often than it is renewed. [s]</param>
    public static LogMeasurement Of(List<double> power, double stepWh, int intervalS, double phaseWh, int renewedS = 1)
    {
        var sums = new List<double> { 0 };
        power.ForEach(w => sums.Add(sums[^1] + (w / 3600)));
        return TextLog.Measure(
            TextLog.Of("Time (s),Energy (Wh)", Enumerable.Range(0, power.Count / intervalS).Select(i => i * intervalS),
                ("F3", t => stepWh * Math.Floor((40 + phaseWh + sums[(int)t / renewedS * renewedS] + 1e-9) / stepWh))),
            MeasuringPoint.Wall, null, (LogQuantity.Energy, "0.5 %"));
    }
}
