using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Studies;

namespace ChargeAudit.Tests.Studies;

public sealed class BatteryAndOutputsTests
{
    [Fact]
    public void The_discharge_energy_comes_with_its_limits()
    {
        var device = Read("[device]\nbattery-discharge = \"14.9 Wh\"\nbattery-discharge-within = \"120 mWh\"\n").Device;
        Assert.Equal(14.9, device.BatteryDischargeWh!.Value, 1e-12);
        Assert.Equal(0.12, device.BatteryDischargeWithinWh!.Value, 1e-12);
    }

    [Theory]
    [InlineData("[device]\nbattery-discharge-within = \"0.1 Wh\"\n", "goes with battery-discharge, which is not given")]
    [InlineData("[device]\nbattery-discharge = \"14.9 Wh\"\nbattery-discharge-within = \"15 Wh\"\n",
        "as large as battery-discharge itself")]
    [InlineData("[device]\nbattery-discharge = \"14.9 Wh\"\nbattery-discharge-within = \"1 %\"\n", "a value with its unit was expected")]
    [InlineData("[adapter]\noutputs = 1.5\n", "a whole number from 1")]
    [InlineData("[adapter]\noutputs = 0\n", "outputs")]
    public void What_cannot_be_is_refused_with_its_line(string text, string says)
    {
        var error = Assert.Throws<InputException>(() => Read(text));
        Assert.Matches("^study.toml, line \\d+: ", error.Message);
        Assert.Contains(says, error.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void The_outputs_of_an_adapter_are_read() =>
        Assert.Equal(3, Read("[adapter]\nkind = \"multiple\"\noutputs = 3\n").Adapter!.Outputs);

    private static Study Read(string text) => StudyReader.Read(
        "study.toml",
        text + "[meters.m]\npoint = \"wall\"\n[methods.cable]\nkind = \"wired\"\n[methods.pad]\nkind = \"inductive\"\n"
        + "[[runs]]\nmethod = \"cable\"\nlogs = { wall = { file = \"a.csv\", meter = \"m\" } }\n[[runs]]\nmethod = \"pad\"\nlogs = { wall "
            + "= { file = \"b.csv\", meter = \"m\" } }\n",
        ".");
}
