using System.Globalization;
using System.Text;
using ChargeAudit.Logs;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Tests.Logs.Reading;
using ChargeAudit.Tests.Measuring;

namespace ChargeAudit.Tests.Logs.FirstLook;

/// <summary>Means of intervals are told from instants by both ends in a row, or by words. The energy of rows of a quarter of an hour is a
/// sum by hand.</summary>
public sealed class IntervalMeansTests
{
    private static readonly double[] MeansW = [0.2, 0.2, 7.5, 7.5, 7.4, 7.1, 6.2, 4.0, 1.8, 0.6, 0.3, 0.3];

    [Theory]
    [InlineData("start,end,power (W)", "{0},{1},{2}", false)]
    [InlineData("Von;Bis;Mittlere Leistung (W)", "{0};{1};{2}", false)]
    [InlineData("end,start,power (W)", "{1},{0},{2}", false)]
    [InlineData("start,duration (s),mean power (W)", "{0},900,{2}", false)]
    [InlineData("Startzeit;Dauer (min);P (W)", "{0};15;{2}", false)]
    [InlineData("interval end,mean power (W)", "{1},{2}", true)]
    [InlineData("interval start,power (W)", "{0},{2}", false)]
    [InlineData("Intervallende;Durchschnittsleistung (W)", "{1};{2}", true)]
    [InlineData("début,puissance moyenne (W)", "{0},{2}", false)]
    public void Each_row_counts_for_its_interval(string header, string row, bool ends)
    {
        string log = Log(header, row, MeansW.Length);
        LogText.Read read = LogText.Of(log, new LogOptions { Strict = true });

        Assert.Equal(ends ? SampleKind.AverageEnding : SampleKind.AverageStarting, read.Layout.Samples);
        Assert.Equal(900, read.Layout.IntervalS);
        Assert.Equal("means of intervals of 900 s", read.Layout.TableForm);
        Assert.Equal(MeansW.Sum() / 4, TextLog.Measure(log, MeasuringPoint.Wall).Energy.Value, 9);
    }

    [Theory]
    [InlineData("time,mean power (W)")]
    [InlineData("start time,power (W)")]
    [InlineData("date de mesure,puissance moyenne (W)")]
    public void Without_an_end_and_a_word_readings_are_instants(string header) =>
        Assert.Equal(SampleKind.Instantaneous, LogText.Of(Log(header, "{0},{2}", MeansW.Length)).Layout.Samples);

    [Fact]
    public void What_the_user_says_of_the_readings_stands() => Assert.Equal(SampleKind.Instantaneous,
        LogText.Of(Log("start,end,power (W)", "{0},{1},{2}", 12), new LogOptions { Samples = SampleKind.Instantaneous }).Layout.Samples);

    [Fact]
    public void Means_over_different_lengths_are_refused() => Assert.Contains("means of intervals of different lengths (900 s and 1800 s)",
        Assert.Throws<InputException>(
            () => LogText.Of(Log("start,end,power (W)", "{0},{1},{2}", 11) + "2031-05-07 20:45,2031-05-07 21:15,0.3\n"))
            .Message,
        StringComparison.Ordinal);

    // Energies of intervals beside their power are no counter that is reset in each row.
    [Fact]
    public void Energies_of_intervals_beside_power_are_left_out()
    {
        var text = new StringBuilder("start,end,power (W),energy (Wh)\n");
        for (int i = 0; i < MeansW.Length; i++)
        {
            text.Append(CultureInfo.InvariantCulture, $"{Stamp(i)},{Stamp(i + 1)},{MeansW[i]},{MeansW[i] / 4}\n");
        }

        LogText.Read read = LogText.Of(text.ToString());

        Assert.Equal(LogQuantity.Ignored, read.Layout.Columns[3].Quantity);
        Assert.Contains(read.Layout.Notes, n => n.Contains("holds energies of intervals and no counter", StringComparison.Ordinal));
    }

    private static string Log(string header, string row, int rows)
    {
        var text = new StringBuilder(header + "\n");
        for (int i = 0; i < rows; i++)
        {
            text.AppendFormat(CultureInfo.InvariantCulture, row, Stamp(i), Stamp(i + 1), MeansW[i]).Append('\n');
        }

        return text.ToString();
    }

    private static string Stamp(int quarter) =>
        new DateTime(2031, 5, 7, 18, 0, 0).AddMinutes(15 * quarter).ToString("yyyy-MM-dd HH:mm", CultureInfo.InvariantCulture);
}
