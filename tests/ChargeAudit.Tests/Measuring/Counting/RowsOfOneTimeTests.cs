using System.Globalization;
using ChargeAudit.Logs;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Uncertainty;
using static ChargeAudit.Tests.Measuring.TextLog;

namespace ChargeAudit.Tests.Measuring.Counting;

/// <summary>A counter whose log's clock stands still for some rows: every figure has an interval that is one, wherever that happens.</summary>
public sealed class RowsOfOneTimeTests
{
    // 0.1 W, 19 W from 3600 s on, falling from 14 400 s on to 0.4 W, a row every 900 s or 60 s.
    private static double EnergyWh(double t)
    {
        double charge = Math.Clamp(t - 3600, 0, 10_800) * 19, full = Math.Max(0, t - 14_400);
        return ((0.1 * Math.Min(t, 3600)) + charge + (18.6 * 1500 * (1 - Math.Exp(-full / 1500))) + (0.4 * full)) / 3600;
    }

    [Theory]
    [InlineData(900, "F3")]
    [InlineData(900, "F1")]
    [InlineData(60, "F3")]
    [InlineData(60, "F1")]
    public void Each_figure_has_an_interval_wherever_the_clock_stands_still(int intervalS, string format)
    {
        int rows = 31_500 / intervalS, most = Math.Min(40, rows - 6);
        for (int i = 0; i < most; i++)
        {
            int from = 1 + (i * (rows - 6) / most);
            int TimeOf(int row) => intervalS * (row > from && row <= from + 4 ? from : row);
            string Row(int row) => $"{TimeOf(row)},{EnergyWh(intervalS * row).ToString(format, CultureInfo.InvariantCulture)}\n";
            string text = "time (s),energy (Wh)\n" + string.Concat(Enumerable.Range(0, rows).Select(Row));
            var log = Measure(text, MeasuringPoint.Wall, null, (LogQuantity.Energy, "1 %"));
            var ofModes = log.Modes.SelectMany(m => (Measured?[])[m.Energy, m.MeanPower.Value]).OfType<Measured>();
            foreach (var figure in ofModes.Append(log.Energy))
            {
                var interval = figure.Interval()!.Value;
                Assert.True(double.IsFinite(interval.Low) && double.IsFinite(interval.High), $"rows {from} to {from + 4}");
            }

            Assert.InRange(EnergyWh(intervalS * (rows - 1)), log.Energy.Interval()!.Value.Low, log.Energy.Interval()!.Value.High);
        }
    }
}
