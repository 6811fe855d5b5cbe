using ChargeAudit.Logs;
using ChargeAudit.Metrology;

namespace ChargeAudit.Tests.Logs.Reading;

/// <summary>Reads published logs of real chargers and cells; the expected figures were worked out apart from this program.</summary>
public sealed class OpenDataTests
{
    private static readonly LogOptions ByPosition = new()
    {
        Columns = new Dictionary<LogQuantity, ColumnChoice>
        {
            [LogQuantity.Time] = new(null, 1, null),
            [LogQuantity.Power] = new(null, 2, null),
        },
    };

    [Theory]
    [InlineData("charger-smartphone-day-1.csv", 11528, 22.994, 7, 7.366)]
    [InlineData("charger-smartphone-day-2.csv", 10137, 10.182, 4, 26.489)]
    [InlineData("charger-smartphone-gaps.csv", 19668, 22.914, 3, 9.334)]
    public void A_headerless_wall_log_is_read_by_position(string file, long rows, double hours, double medianS, double wattHours)
    {
        LogText.Read read = LogText.FromFile(Path(file), ByPosition);

        Assert.Equal(rows, read.Outcome.Rows);
        Assert.Equal(0, read.Outcome.RowsSkipped);
        Assert.Equal(hours, read.Samples[^1].TimeS / 3600, 0.001);
        Assert.Equal(medianS, read.Layout.MedianIntervalS);
        Assert.Equal(SampleKind.Instantaneous, read.Layout.Samples);
        Assert.Equal(2, read.Layout.Resolution[LogQuantity.Power]);
        Assert.StartsWith("day first", read.Layout.TimeForm, StringComparison.Ordinal);

        // Printed to three decimals.
        Assert.Equal(wattHours, TrapezoidWh(read.Samples, s => s.PowerW), 0.0005);
    }

    [Fact]
    public void A_cell_charge_written_on_change_has_no_gaps_and_its_counters()
    {
        LogText.Read read = LogText.FromFile(Path("lithium-cell-charge.csv"));

        Assert.Equal(SampleKind.OnChange, read.Layout.Samples);
        Assert.True(double.IsPositiveInfinity(read.Layout.GapThresholdS));
        Assert.Equal(4.28398, read.Samples[^1].EnergyCounterJ / 3600, 0.00001);
        Assert.Equal(1.07485, read.Samples[^1].ChargeCounterC / 3600, 0.00001);

        // All rows but the last, which shows the discharge that follows.
        Assert.Equal(4.28941, TrapezoidWh([.. read.Samples.SkipLast(1)], s => s.VoltageV * s.CurrentA), 0.00001);
        Assert.Equal(4.2800, TrapezoidWh(read.Samples, s => s.VoltageV * s.CurrentA), 0.0001);
    }

    private static string Path(string file)
    {
        string? folder = Environment.GetEnvironmentVariable("CHARGEAUDIT_OPEN_DATA");
        Assert.SkipWhen(folder is null, "CHARGEAUDIT_OPEN_DATA names no folder of open data");
        return System.IO.Path.Combine(folder!, file);
    }

    private static double TrapezoidWh(IReadOnlyList<Sample> samples, Func<Sample, double> powerW) =>
        samples.Zip(samples.Skip(1), (a, b) => (b.TimeS - a.TimeS) * (powerW(a) + powerW(b)) / 2).Sum() / 3600;
}
