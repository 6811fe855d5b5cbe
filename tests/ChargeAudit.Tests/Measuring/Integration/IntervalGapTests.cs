using System.Globalization;
using System.Text;
using ChargeAudit.Logs;

namespace ChargeAudit.Tests.Measuring.Integration;

/// <summary>A row of an interval's energy that is missing is a hole as long as its interval, and its neighbours keep their own energy.
/// Expected values are sums by hand.</summary>
public sealed class IntervalGapTests
{
    private static readonly double[] ValuesWh = [0.1, 0.1, 2.1, 2.0, 2.2, 1.9, 2.1, 1.4, 0.2, 0.1, 0.1, 0.1];

    [Theory]
    [InlineData("start,end,consumption (Wh)")]
    [InlineData("start,consumption per interval (Wh)")]
    [InlineData("end time,usage (Wh)")]
    public void A_missing_row_is_left_out_with_its_energy_and_nothing_more(string header)
    {
        double allWh = ValuesWh.Sum();

        Assert.Equal(allWh, EnergyWh(header, missing: -1), 9);
        Assert.Equal(allWh - ValuesWh[3], EnergyWh(header, missing: 3), 9);
    }

    private static double EnergyWh(string header, int missing)
    {
        bool ends = header.StartsWith("end", StringComparison.Ordinal), both = header.Contains(",end,", StringComparison.Ordinal);
        var text = new StringBuilder(header + "\n");
        for (int i = 0; i < ValuesWh.Length; i++)
        {
            // Where the stamp is an interval's end, the first row's interval has no row before it.
            int shown = ends ? (i + ValuesWh.Length - 1) % ValuesWh.Length : i;
            if (shown != missing)
            {
                text.Append(CultureInfo.InvariantCulture, $"{Stamp(i)},{(both ? Stamp(i + 1) + "," : "")}{ValuesWh[shown]}\n");
            }
        }

        return TextLog.Measure(text.ToString(), MeasuringPoint.Wall, new LogOptions { Gaps = GapPolicy.Exclude }).Energy.Value;
    }

    private static string Stamp(int quarter) =>
        new DateTime(2031, 5, 7, 18, 0, 0).AddMinutes(15 * quarter).ToString("yyyy-MM-dd HH:mm", CultureInfo.InvariantCulture);
}
