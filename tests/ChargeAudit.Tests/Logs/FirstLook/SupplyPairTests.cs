using ChargeAudit.Metrology;
using ChargeAudit.Tests.Logs.Reading;

namespace ChargeAudit.Tests.Logs.FirstLook;

/// <summary>Voltage and current are taken of one outlet, and of what was measured, not of what was set.</summary>
public sealed class SupplyPairTests
{
    // One outlet gives 9 V and nothing, the other 5 V and 2 A: only these two make a power.
    [Theory]
    [InlineData("time (s),USB-C voltage (V),USB-A voltage (V),USB-C current (A),USB-A current (A)", "9.00,5.0{0},0,2.0{0}", 2, 4)]
    [InlineData("time (s),Port A voltage (V),Port A current (A),Port B voltage (V),Port B current (A)", "5.0{0},2.0{0},9.0{0},0", 1, 2)]
    [InlineData("time (s),V1 (V),V2 (V),A1 (A),A2 (A)", "9.00,5.0{0},0,2.0{0}", 2, 4)]
    [InlineData("time (s),Uset (V),Uout (V),Iset (A),Iout (A)", "9.00,5.0{0},3.0,2.0{0}", 2, 4)]
    [InlineData("time (s),Uset (V),Umeas (V),Iset (A),Imeas (A)", "9.00,5.00,3.0,2.0{0}", 2, 4)]
    [InlineData("time (s),target V,target A,actual V,actual A", "9.00,3.0,5.00,2.0{0}", 3, 4)]
    [InlineData("time (s);Spannung Buchse 1 (V);Spannung Buchse 2 (V);Strom Buchse 1 (A);Strom Buchse 2 (A)", "9.00;5.0{0};0;2.0{0}", 2, 4)]
    public void Both_are_of_one_outlet(string header, string row, int voltage, int current)
    {
        char separator = header.Contains(';', StringComparison.Ordinal) ? ';' : ',';
        LogText.Read read = LogText.Of(header + "\n" + string.Concat(Enumerable.Range(0, 20)
            .Select(i => InvariantText.Of($"{i}{separator}{string.Format(null, row, i % 10)}\n"))));

        Assert.Equal(LogQuantity.Voltage, read.Layout.Columns[voltage].Quantity);
        Assert.Equal(LogQuantity.Current, read.Layout.Columns[current].Quantity);
    }

    [Theory]
    [InlineData("ENERGY.Power", "ENERGY.Voltage", "ENERGY.Current")]
    [InlineData("energy_power", "energy_voltage", "energy_current")]
    [InlineData("meter.current.power", "meter.current.voltage", "meter.current.current")]
    [InlineData("charge power", "charge voltage", "charge current")]
    public void A_beginning_that_several_headers_share_names_no_quantity(string power, string voltage, string current)
    {
        LogText.Read read = LogText.Of($"time (s),{power},{voltage},{current}\n" + string.Concat(Enumerable.Range(0, 20)
            .Select(i => InvariantText.Of($"{i},10.{i % 10},5,2.{i % 10}\n"))));

        Assert.Equal([LogQuantity.Power, LogQuantity.Voltage, LogQuantity.Current], read.Layout.Columns.Skip(1).Select(c => c.Quantity));
    }

    [Theory]
    [InlineData("P_R (W),P_S (W),P_T (W),P_tot (W)")]
    [InlineData("P1 (W),P2 (W),P3 (W),Psum (W)")]
    [InlineData("Phase A power (W),Phase B power (W),Phase C power (W),overall power (W)")]
    [InlineData("potenza L1 (W),potenza L2 (W),potenza L3 (W),potenza complessiva (W)")]
    [InlineData("moc L1 (W),moc L2 (W),moc L3 (W),moc suma (W)")]
    public void A_sum_is_taken_and_none_of_its_parts(string columns)
    {
        LogText.Read read = LogText.Of($"time (s),{columns}\n" + string.Concat(Enumerable.Range(0, 20)
            .Select(i => InvariantText.Of($"{i},7.{i % 10},1.{i % 10},2.{i % 10},10.{i % 10}\n"))));

        Assert.Equal(LogQuantity.Power, read.Layout.Columns[4].Quantity);
    }
}
