using System.Globalization;
using ChargeAudit.Logs.Layout;
using ChargeAudit.Metrology;
using ChargeAudit.Tests.Logs.Reading;

namespace ChargeAudit.Tests.Logs.FirstLook;

/// <summary>Columns of plain numbers are read once and by themselves. Quotes around fields say nothing but keep a log from that, so a log is
/// understood alike with and without them.</summary>
public sealed class PlainColumnsTests
{
    private static readonly DateTime Start = new(2026, 3, 1, 20, 0, 0);

    public static TheoryData<string, string, string> Forms() => new()
    {
        { "time_s,voltage_V,current_A", "0", "0.0000" },
        { "time_s,voltage_V,current_mA", "0.###", "0.000" },
        { "time,power", "yyyy-MM-dd HH:mm:ss", "0.00" },
        { "time;voltage (V);current (A)", "0.0", "0,000" },
        { "time_s\tenergy_Wh\tpower_W", "0.00", "0.###" },
        { "time,voltage_V,current_A", "epoch", "0.0000" },
        { "time,voltage_V,current_A", "days", "0.00" },
        { "ms,power_W", "0", "0" },
        { "time_s,power_W,note", "0.0", "0.0" },
    };

    [Theory]
    [MemberData(nameof(Forms))]
    public void A_log_is_understood_alike_with_quotes_and_without(string header, string times, string numbers)
    {
        // Of a long log only some places are looked at, which are the same where lines are equally long.
        foreach (var (rows, blank) in new[] { (5, ""), (60, ""), (9000, " ") })
        {
            var (plain, quoted) = Texts(header, times, numbers, rows, blank);
            LogText.Read one = LogText.Of(plain), other = LogText.Of(quoted);
            Assert.Equal(Told(other.Layout), Told(one.Layout));
            Assert.Equal(other.Samples, one.Samples);
            Assert.True(one.Samples.Count > 0.98 * rows);
        }
    }

    [Fact]
    public void One_field_that_is_no_number_leaves_its_column_to_be_read_field_by_field()
    {
        var (plain, _) = Texts("time_s,voltage_V,current_A", "0", "0.0000", 400);
        string[] lines = plain.Split('\n');
        lines[200] = lines[200][..lines[200].LastIndexOf(',')] + ",n/a";
        LogText.Read read = LogText.Of(string.Join('\n', lines));
        Assert.Equal(1e-4, read.Layout.Resolution[LogQuantity.Current], 1e-12);
        Assert.Equal(1e-4, read.Layout.Resolution[LogQuantity.Voltage], 1e-12);
        Assert.Equal(399, read.Samples.Count(s => double.IsFinite(s.CurrentA)));
    }

    private static IEnumerable<string> Told(LogLayout layout) =>
    [
        .. layout.Columns.Select(c => c.ToString()),
        $"{layout.TimeForm} {layout.Start} {layout.StartIsLocal} {layout.Samples} {layout.SamplesWhy} {layout.ChangeThreshold}",
        layout.MedianIntervalS.ToString("R", CultureInfo.InvariantCulture),
        $"{layout.PowerIsProduct} {layout.Dialect?.DecimalSeparator} {layout.Dialect?.FirstDataLine} {layout.Dialect?.HeaderLine}",
        .. layout.Steps.OrderBy(s => s.Key).Select(s => string.Create(CultureInfo.InvariantCulture,
            $"{s.Key} {s.Value.Printed:R} {s.Value.Lattice:R} {string.Join(' ', s.Value.Different)}")),
        .. layout.Notes,
        .. layout.Ambiguities,
    ];

    private static (string Plain, string Quoted) Texts(string header, string times, string numbers, int rows, string blank = "")
    {
        var dice = new Random(rows + header.Length);
        char separator = header.FirstOrDefault(c => c is '\t' or ';', ',');
        string[] names = header.Split(separator);
        var (plain, quoted) = (new List<string> { header }, new List<string> { header });
        double counted = 0;
        double[] levels = [5.02, 1.85];
        for (int i = 0; i < rows; i++)
        {
            double s = i + (times.Contains('#', StringComparison.Ordinal) ? 0.125 * dice.Next(3) : 0);
            counted += 0.003 + (0.0002 * dice.NextDouble());
            levels[1] = i < rows / 2 ? 1.85 : 1.85 * Math.Exp(-3.0 * (i - (rows / 2)) / rows);
            string[] fields = [.. names.Select((n, k) => n.StartsWith("note", StringComparison.Ordinal) ? "on"
                : n.StartsWith("time", StringComparison.Ordinal) || n == "ms" ? TimeText(times, s)
                : n.StartsWith("energy", StringComparison.Ordinal) ? Number(counted, numbers)
                : Number(levels[k % 2] + (0.004 * (dice.NextDouble() - 0.5)), numbers))];
            plain.Add(string.Join(separator, fields.Select(f => blank + f + blank)));
            quoted.Add(string.Join(separator, fields.Select(f => $"\"{f}\"")));
        }

        return (string.Join('\n', plain) + "\n", string.Join('\n', quoted) + "\n");
    }

    private static string TimeText(string form, double s) => form switch
    {
        "epoch" => (1_772_395_200 + s).ToString("0", CultureInfo.InvariantCulture),
        "days" => (46_082.5 + (s / 86_400)).ToString("0.0000000", CultureInfo.InvariantCulture),
        "0" => (s * 1000).ToString("0", CultureInfo.InvariantCulture),
        _ when form.StartsWith('y') => Start.AddSeconds(s).ToString(form, CultureInfo.InvariantCulture),
        _ => s.ToString(form, CultureInfo.InvariantCulture),
    };

    private static string Number(double value, string form) => form.Contains(',', StringComparison.Ordinal)
        ? value.ToString(form.Replace(',', '.'), CultureInfo.InvariantCulture).Replace('.', ',')
        : (form == "0" ? 1000 * value : value).ToString(form, CultureInfo.InvariantCulture);
}
