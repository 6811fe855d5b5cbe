using System.Globalization;
using System.Text;
using ChargeAudit.Logs;
using ChargeAudit.Logs.Layout;
using ChargeAudit.Logs.Reading;
using ChargeAudit.Metrology;

namespace ChargeAudit.Tests.Logs.Columns;

/// <summary>Of two counters of one quantity, the one that agrees with the readings is used.</summary>
public sealed class CounterColumnsTests
{
    [Theory]
    [InlineData(1)]
    [InlineData(0)]
    public void The_counter_that_the_readings_agree_with_is_taken_for_energy_and_charge(int movingFirst)
    {
        // 10 V and 1 A: 10 J and 1 C a second flow in, and nothing comes out.
        var text = new StringBuilder("Time (s),Voltage (V),Current (A),Energy A (Wh),Energy B (Wh),Charge A (Ah),Charge B (Ah)\n");
        for (int i = 0; i < 300; i++)
        {
            string wh = (10.0 * i / 3600).ToString("F5", CultureInfo.InvariantCulture), ah = (i / 3600.0)
                .ToString("F5", CultureInfo.InvariantCulture);
            text.Append(movingFirst == 1 ? $"{i},10,1,{wh},3.00000,{ah},4.00000\n" : $"{i},10,1,3.00000,{wh},4.00000,{ah}\n");
        }

        var layout = Inspect(text.ToString());
        string letter = movingFirst == 1 ? "A" : "B";
        Assert.Equal($"Energy {letter} (Wh)", Assert.Single(layout.Columns, c => c.Quantity == LogQuantity.Energy).Header);
        Assert.Equal($"Charge {letter} (Ah)", Assert.Single(layout.Columns, c => c.Quantity == LogQuantity.Charge).Header);
    }

    [Fact]
    public void Without_readings_the_counter_that_moves_is_taken()
    {
        var text = new StringBuilder("Time (s),Energy out (Wh),Energy in (Wh)\n");
        for (int i = 0; i < 300; i++)
        {
            text.Append(CultureInfo.InvariantCulture, $"{i},3.000,{0.003 * i:F3}\n");
        }

        Assert.Equal("Energy in (Wh)", Assert.Single(Inspect(text.ToString()).Columns, c => c.Quantity == LogQuantity.Energy).Header);
    }

    [Fact]
    public void A_coarse_counter_with_a_few_dips_is_still_a_counter()
    {
        var text = new StringBuilder("Time (s),Energy (Wh)\n");
        for (int i = 0; i < 400; i++)
        {
            text.Append(CultureInfo.InvariantCulture, $"{i},{(i % 60 == 30 ? 0 : 100 + (i / 40))}\n");
        }

        Assert.Single(Inspect(text.ToString()).Columns, c => c.Quantity == LogQuantity.Energy);
    }

    private static LogLayout Inspect(string text)
    {
        string path = Path.GetTempFileName();
        try
        {
            File.WriteAllText(path, text);
            return LogReader.Inspect(path, new LogOptions());
        }
        finally
        {
            File.Delete(path);
        }
    }
}
