using System.Globalization;
using ChargeAudit.Logs;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Tests.Logs.Reading;

namespace ChargeAudit.Tests.Logs.FirstLook;

/// <summary>Energies of intervals and counters are told apart by their form and by words.</summary>
public sealed class IntervalEnergyTests
{
    private static readonly double[] ValuesWh = [1.1, 1.2, 1.15, 1.12, 1.2, 1.18, 1.1, 0.9, 0.5, 0.25, 0.1, 0.1];

    [Fact]
    public void Energies_between_a_start_and_an_end_are_mean_powers()
    {
        LogText.Read read = LogText.Of("start,end,consumption (Wh)\n" + Rows(i => $"{Stamp(i)},{Stamp(i + 1)},{Text(ValuesWh[i])}"),
            new LogOptions { Strict = true });

        AssertMeans(read, SampleKind.AverageStarting);
        Assert.Equal("energies of intervals of 900 s", read.Layout.TableForm);
    }

    [Theory]
    [InlineData("Beginn;Ende;Verbrauch (Wh)")]
    [InlineData("début;fin;consommation (Wh)")]
    [InlineData("inicio;fin;consumo (Wh)")]
    [InlineData("開始;終了;使用量 (Wh)")]
    public void Starts_and_ends_are_known_in_other_languages(string header) =>
        AssertMeans(LogText.Of(header + "\n" + Rows(i => $"{Stamp(i)};{Stamp(i + 1)};{Text(ValuesWh[i])}")), SampleKind.AverageStarting);

    [Fact]
    public void A_name_that_says_so_confirms_what_falls()
    {
        LogText.Read read = LogText.Of("time,energy per interval (Wh)\n" + Rows(i => $"{Stamp(i)},{Text(ValuesWh[i])}"), new LogOptions
        {
            Strict = true,
        });

        AssertMeans(read, SampleKind.AverageStarting);
    }

    [Fact]
    public void A_stamp_called_the_end_belongs_to_the_interval_before() =>
        AssertMeans(LogText.Of("end time,usage (Wh)\n" + Rows(i => $"{Stamp(i)},{Text(ValuesWh[i])}")), SampleKind.AverageEnding);

    [Fact]
    public void What_falls_without_a_word_is_doubted_and_refused_under_strict()
    {
        string log = "time,energy (Wh)\n" + Rows(i => $"{Stamp(i)},{Text(ValuesWh[i])}");

        LogText.Read read = LogText.Of(log);

        AssertMeans(read, SampleKind.AverageStarting);
        Assert.Contains(read.Layout.Notes, n => n.Contains("it falls again and again", StringComparison.Ordinal));
        Assert.Throws<InputException>(() => LogText.Of(log, new LogOptions { Strict = true }));
    }

    [Fact]
    public void What_only_rises_is_a_counter()
    {
        LogText.Read read = LogText.Of("time,consumption (Wh)\n" + Rows(i => $"{Stamp(i)},{Text(100 + ValuesWh.Take(i).Sum())}"),
            new LogOptions { Strict = true });

        Assert.Equal(LogQuantity.Energy, read.Layout.Columns[1].Quantity);
        Assert.Null(read.Layout.TableForm);
    }

    [Fact]
    public void Intervals_of_different_lengths_are_refused() =>
        Assert.Contains(
            "different lengths (900 s and 1800 s)",
            Assert.Throws<InputException>(() =>
                LogText.Of("from,to,energy (Wh)\n" + Rows(i => $"{Stamp(i)},{Stamp(i == 5 ? i + 2 : i + 1)},{Text(ValuesWh[i])}"))).Message,
            StringComparison.Ordinal);

    // A name that says interval and a form that says counter contradict each other.
    [Theory]
    [InlineData("time,energy per interval (Wh)")]
    [InlineData("Zeit,Intervallverbrauch (Wh)")]
    [InlineData("Zeit,Verbrauch je 5 min (Wh)")]
    [InlineData("time,usage (Wh)")]
    [InlineData("start,end,consumption (Wh)")]
    public void What_only_rises_against_its_name_is_doubted(string header)
    {
        bool both = header.Contains(",end,", StringComparison.Ordinal);
        LogText.Read read = LogText.Of(
            header + "\n" + Rows(i => $"{Stamp(i)},{(both ? Stamp(i + 1) + "," : "")}{Text(ValuesWh.Take(i + 1).Sum())}"));

        Assert.Equal(LogQuantity.Energy, read.Layout.Columns[both ? 2 : 1].Quantity);
        Assert.Contains(read.Layout.Ambiguities, a => a.Contains("only rises; it was read as a counter", StringComparison.Ordinal));
    }

    // 7.5 Wh in 10 s are 2.7 kW, which no charger takes.
    [Fact]
    public void Energies_without_a_unit_that_would_be_kilowatts_are_powers()
    {
        LogText.Read read = LogText.Of("time (s),consumption\n" + Rows(i => $"{10 * i},{Text(7 * ValuesWh[i])}"));

        Assert.Equal(7 * 1.15, read.Samples[2].PowerW, 12);
        Assert.Contains(read.Layout.Ambiguities, a => a.Contains("read as a power in W", StringComparison.Ordinal));
    }

    // An energy of 1.1 Wh in 900 s is a mean of 4.4 W.
    private static void AssertMeans(LogText.Read read, SampleKind kind)
    {
        Assert.Equal(kind, read.Layout.Samples);
        Assert.Equal(ValuesWh.Select(w => Math.Round(4 * w, 9)), read.Samples.Select(s => Math.Round(s.PowerW, 9)));
        Assert.Equal(11 * 900, read.Samples[^1].TimeS);
    }

    private static string Rows(Func<int, string> row) => string.Concat(Enumerable.Range(0, ValuesWh.Length).Select(i => row(i) + "\n"));

    private static string Text(double value) => value.ToString(CultureInfo.InvariantCulture);

    private static string Stamp(int quarter) =>
        new DateTime(2031, 5, 7, 18, 0, 0).AddMinutes(15 * quarter).ToString("yyyy-MM-dd HH:mm", CultureInfo.InvariantCulture);
}
