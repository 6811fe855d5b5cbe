using System.Globalization;
using System.Text;
using ChargeAudit.Comparing.Tables;
using ChargeAudit.Logs;
using ChargeAudit.Measuring;
using ChargeAudit.Metrology;
using ChargeAudit.Tests.Measuring;
using Microsoft.Data.Analysis;

namespace ChargeAudit.Tests.Comparing.Tables;

/// <summary>
/// Means of one minute, worked by hand: 20 min at 0.25 W, 150 min at 6 W, 90 min at 0.5 W. Energies: 0.25 ÷ 3 = 0.08333 Wh, 15 Wh, 0.75 Wh;
/// 15.83333 Wh in all, in 260 min.
/// </summary>
public sealed class LogTablesTests : IDisposable
{
    private const double TotalWh = 0.25 / 3 + 15 + 0.75;

    private readonly string _folder = Directory.CreateTempSubdirectory("chargeaudit-").FullName;

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Fact]
    public void A_log_is_one_row_of_results()
    {
        var table = LogTables.Results([Log("a.csv"), Log("b.csv")]);
        Assert.Equal(2, table.Rows.Count);
        Assert.Equal(["a.csv", "b.csv"], Column(table, "file").Select(f => Path.GetFileName((string)f!)));
        Assert.All(Numbers(table, "duration_s"), d => Assert.Equal(260 * 60, d!.Value, 6));
        Assert.All(Numbers(table, "energy_wh"), e => Assert.Equal(TotalWh, e!.Value, 9));
        Assert.All(Numbers(table, "mean_power_w"), p => Assert.Equal(TotalWh * 60 / 260, p!.Value, 9));
        Assert.All(Numbers(table, "peak_power_w"), p => Assert.Equal(6, p));
        Assert.All(Numbers(table, "rows"), r => Assert.Equal(260, r));
        Assert.All(Numbers(table, "faults"), f => Assert.Equal(0, f));
        Assert.All(Numbers(table, "charge_ah"), Assert.Null);
        Assert.All(Column(table, "start_time"), Assert.Null);
        Assert.All(Column(table, "point"), p => Assert.Equal("wall", p));
        Assert.All(Column(table, "meter"), m => Assert.Equal("plug", m));
    }

    [Fact]
    public void A_charge_with_what_follows_it_is_one_session()
    {
        var table = LogTables.Sessions([Log("a.csv")]);
        Assert.Equal(1, table.Rows.Count);
        Assert.Equal(1, Numbers(table, "session")[0]);
        Assert.Equal(15, Numbers(table, "energy_wh")[0]!.Value, 6);
        // Seconds count from the first sample, which stands at the end of the first minute.
        Assert.Equal(19 * 60, Numbers(table, "start_s")[0]!.Value, 6);
        Assert.Equal(150 * 60, Numbers(table, "duration_s")[0]!.Value, 6);
        Assert.Equal(90 * 60, Numbers(table, "maintenance_s")[0]!.Value, 6);
    }

    [Fact]
    public void Modes_tile_the_log_and_add_up()
    {
        var table = LogTables.Modes([Log("a.csv")]);
        Assert.Equal(["no-load", "charge", "maintenance"], Column(table, "mode"));
        Assert.Equal(Numbers(table, "end_s")[..^1], Numbers(table, "start_s")[1..]);
        Assert.Equal(TotalWh, (double)table.Columns["energy_wh"].Sum(), 9);

        // The table is worked on as a table: by mode, then its sum.
        var byMode = table.GroupBy("mode").Sum("energy_wh");
        var waiting = byMode.Filter(byMode.Columns["mode"].ElementwiseEquals("no-load"));
        Assert.Equal(0.25 / 3, (double)waiting.Columns["energy_wh"][0], 9);
    }

    [Fact]
    public void The_cells_of_the_envelope_hold_the_energy_and_the_time_of_the_log()
    {
        var table = LogTables.Envelope([Log("a.csv")]);
        Assert.Equal(TotalWh, Numbers(table, "energy_wh").Sum()!.Value, 9);
        Assert.Equal(260 * 60, Numbers(table, "covered_s").Sum()!.Value, 6);
        Assert.Equal(260, Numbers(table, "readings").Sum());
        Assert.Equal(0, Numbers(table, "bridged_s").Sum());
        Assert.All(table.Rows, r => Assert.True((double)r["end_s"] > (double)r["start_s"]));
        Assert.Equal(6, Numbers(table, "max_power_w").Max());
        Assert.Equal(0.25, Numbers(table, "min_power_w").Min());
    }

    [Fact]
    public void An_uncertainty_that_is_not_known_is_null_and_not_zero()
    {
        var table = LogTables.Results([Log("a.csv")]);
        foreach (string column in new[] { "energy_wh_u", "energy_wh_low", "energy_wh_high" })
        {
            Assert.Equal(1, table.Columns[column].NullCount);
        }
    }

    [Fact]
    public void A_meter_with_accuracy_gives_an_interval_that_holds_the_energy()
    {
        var table = LogTables.Results([Log("a.csv", known: true)]);
        Assert.True(Numbers(table, "energy_wh_low")[0] < TotalWh && Numbers(table, "energy_wh_high")[0] > TotalWh);
    }

    private LogMeasurement Log(string name, bool known = false)
    {
        var text = new StringBuilder("Elapsed (s),Power (W)\n");
        for (int minute = 1; minute <= 260; minute++)
        {
            text.Append(CultureInfo.InvariantCulture, $"{minute * 60},{(minute <= 20 ? 0.25 : minute <= 170 ? 6 : 0.5):0.000}\n");
        }

        string path = Path.Combine(_folder, name);
        File.WriteAllText(path, text.ToString());
        var meter = new Meter
        {
            Name = "plug",
            Options = new LogOptions { Point = MeasuringPoint.Wall, Samples = SampleKind.AverageEnding },
            Accuracy = known ? DataSheet.Of((LogQuantity.Power, "1 %")) : DataSheet.Of(),
        };
        return LogMeasurer.Measure(new MeasureRequest { Paths = [path], Meter = meter, Point = MeasuringPoint.Wall },
            cancellation: TestContext.Current.CancellationToken).Result;
    }

    private static List<object?> Column(DataFrame table, string name) => [.. table.Columns[name].Cast<object?>()];

    private static double?[] Numbers(DataFrame table, string name) => [.. (DoubleDataFrameColumn)table.Columns[name]];
}
