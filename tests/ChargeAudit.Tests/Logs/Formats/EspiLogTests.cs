using System.Globalization;
using System.Text;
using ChargeAudit.Logs;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Tests.Logs.Reading;

namespace ChargeAudit.Tests.Logs.Formats;

/// <summary>Interval data of utility meters; the totals of the published file were worked out apart from this program.</summary>
public sealed class EspiLogTests
{
    [Fact]
    public void The_published_file_is_read_to_its_totals()
    {
        string? folder = Environment.GetEnvironmentVariable("CHARGEAUDIT_OPEN_DATA");
        Assert.SkipWhen(folder is null, "CHARGEAUDIT_OPEN_DATA names no folder of open data");

        LogText.Read read = LogText.FromFile(Path.Combine(folder!, "espi-fifteen-minutes.xml"));

        Assert.Equal("espi", read.Layout.Format);
        Assert.Equal(1340, read.Outcome.Rows);
        Assert.Empty(read.Outcome.Faults);
        Assert.Equal(SampleKind.AverageStarting, read.Layout.Samples);
        Assert.Equal(900, read.Layout.MedianIntervalS);
        Assert.Equal(DateTimeOffset.FromUnixTimeSeconds(1330578000), read.Layout.Start);
        Assert.Equal(1_391_666, read.Samples.Sum(s => s.PowerW) / 4, 1e-6);

        // The first day, and the day of 23 hours on which summer time begins.
        Assert.Equal(93_846, Energy(read, 1330578000, 86_400, out int first), 1e-6);
        Assert.Equal(96, first);
        Assert.Equal(109_403, Energy(read, 1331442000, 82_800, out int summer), 1e-6);
        Assert.Equal(92, summer);
        Assert.Equal(282 * 4, read.Samples[0].PowerW, 1e-9);
    }

    [Fact]
    public void A_register_is_read_as_a_counter_and_never_summed()
    {
        LogText.Read read =
            LogText.Of(Feed(3, 72, -3, (0, 900, 5_000_000), (900, 900, 5_004_000), (1800, 900, 5_010_000)), name: "meter.xml");

        Assert.Equal([5000.0, 5004, 5010], read.Samples.Select(s => Math.Round(s.EnergyCounterJ / 3600, 9)));
        Assert.All(read.Samples, s => Assert.True(double.IsNaN(s.PowerW)));
        Assert.Equal([0.0, 900, 1800], read.Samples.Select(s => s.TimeS));
    }

    [Fact]
    public void The_power_of_ten_and_the_unit_are_heeded()
    {
        LogText.Read kilowattHours = LogText.Of(Feed(4, 72, 3, (0, 3600, 2), (3600, 3600, 4)), name: "meter.xml");
        LogText.Read joules = LogText.Of(Feed(4, 31, 0, (0, 3600, 7200), (3600, 3600, 3600)), name: "meter.xml");
        LogText.Read watts = LogText.Of(Feed(12, 38, -1, (0, 60, 55), (60, 60, 66)), name: "meter.xml");

        Assert.Equal(2000, kilowattHours.Samples[0].PowerW, 1e-9);
        Assert.Equal(2, joules.Samples[0].PowerW, 1e-12);
        Assert.Equal(3, joules.Samples.Sum(s => s.PowerW), 1e-12);
        Assert.Equal(5.5, watts.Samples[0].PowerW, 1e-12);
        Assert.Equal(SampleKind.Instantaneous, watts.Layout.Samples);
    }

    [Fact]
    public void Blocks_out_of_order_are_put_in_order()
    {
        LogText.Read read = LogText.Of(Feed(4, 72, 0, (900, 900, 2), (0, 900, 1)), name: "meter.xml");

        Assert.Equal([4.0, 8], read.Samples.Take(2).Select(s => s.PowerW));
        Assert.Empty(read.Outcome.Faults);
    }

    [Theory]
    [InlineData("<?xml version=\"1.0\"?><feed xmlns=\"http://www.w3.org/2005/Atom\"><entry/></feed>",
        "is XML but holds no IntervalReading of the namespace http://naesb.org/espi")]
    [InlineData("<?xml version=\"1.0\"?><feed><entry>", "the XML is damaged, or holds a document type or entities")]
    [InlineData("<?xml version=\"1.0\"?><!DOCTYPE a [<!ENTITY b \"bbbbbbbbbb\"><!ENTITY c \"&b;&b;&b;\">]><a>&c;</a>",
        "holds a document type or entities, which no log needs")]
    [InlineData("<?xml version=\"1.0\"?><!DOCTYPE a SYSTEM \"file:///etc/passwd\"><a/>",
        "holds a document type or entities, which no log needs")]
    public void Other_xml_gets_a_sentence(string xml, string sentence)
    {
        InputException refused = Assert.Throws<InputException>(() => LogText.Of(xml, name: "meter.xml"));

        Assert.Equal(InputProblem.Unusable, refused.Problem);
        Assert.Contains(sentence, refused.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_unit_without_energy_is_refused()
    {
        InputException refused = Assert.Throws<InputException>(() => LogText.Of(Feed(4, 29, 0, (0, 900, 230)), name: "meter.xml"));

        Assert.EndsWith("meter.xml holds interval data of no unit that gives energy; readings in Wh (72), J (31) or W (38) were expected.",
            refused.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_value_that_is_no_number_is_refused_with_its_line()
    {
        InputException refused =
            Assert.Throws<InputException>(() =>
            LogText.Of(Feed(4, 72, 0, (0, 900, 1)).Replace("<value>1<", "<value>one<", StringComparison.Ordinal), name: "meter.xml"));

        Assert.Contains("the element value holds \"one\", and a whole number was expected", refused.Message, StringComparison.Ordinal);
    }

    private static double Energy(LogText.Read read, long startS, double spanS, out int readings)
    {
        double from = startS - 1330578000;
        var within = read.Samples.Where(s => s.TimeS >= from && s.TimeS < from + spanS).ToList();
        readings = within.Count;
        return within.Sum(s => s.PowerW) * 900 / 3600;
    }

    private static string Feed(int accumulation, int uom, int power, params (long Start, long Duration, long Value)[] readings)
    {
        var text = new StringBuilder("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<feed xmlns=\"http://www.w3.org/2005/Atom\">\n");
        text.Append(CultureInfo.InvariantCulture,
            $"<entry><content><ReadingType "
            + $"xmlns=\"http://naesb.org/espi\"><accumulationBehaviour>"
                + $"{accumulation}</accumulationBehaviour><flowDirection>1</flowDirection>");
        text.Append(CultureInfo.InvariantCulture,
            $"<intervalLength>900</intervalLength><powerOfTenMultiplier>{power}</powerOfTenMultiplier><uom>"
                + $"{uom}</uom></ReadingType></content></entry>\n");
        foreach (var (start, duration, value) in readings)
        {
            text.Append(CultureInfo.InvariantCulture,
                $"<entry><content><IntervalBlock "
                + $"xmlns=\"http://naesb.org/espi\"><interval><duration>{duration}</duration><start>"
                    + $"{1_900_000_000 + start}</start></interval>\n");
            text.Append(CultureInfo.InvariantCulture,
                $"<IntervalReading><timePeriod><duration>{duration}</duration><start>{1_900_000_000 + start}</start></timePeriod>\n<value>"
                    + $"{value}</value></IntervalReading></IntervalBlock></content></entry>\n");
        }

        return text.Append("</feed>\n").ToString();
    }
}
