using ChargeAudit.Measuring.Integration;
using ChargeAudit.Measuring.Segmentation;
using ChargeAudit.Tests.Measuring.Segmentation.Truth;

namespace ChargeAudit.Tests.Measuring.Segmentation;

public sealed class ModeFinderTests
{
    [Fact]
    public void A_flat_zero_log_is_off()
    {
        var modes = Find(3600, 1, _ => 0).Modes;
        Assert.Equal([Mode.Off], modes.Select(m => m.Mode));
    }

    [Fact]
    public void A_zero_log_with_voltage_of_a_dc_supply_is_no_load()
    {
        var envelope = PowerEnvelope.ForInterval(1);
        for (int i = 0; i < 1000; i++)
        {
            envelope.AddReading(i, 0);
            envelope.AddInterval(new PowerInterval(i, i + 1, 0, 0, MeanV: 5.1));
        }

        Assert.Equal([Mode.NoLoad], ModeFinder.Find(envelope, ModeOptions.Default).Modes.Select(m => m.Mode));
    }

    [Theory]
    [InlineData(0.1)]
    [InlineData(1)]
    [InlineData(10)]
    public void A_waiting_pad_with_pulses_holds_no_charge(double intervalS)
    {
        var modes = Find(7200, intervalS, t => 0.2 + (t % 1.7 < 0.2 ? 2.5 : 0)).Modes;
        Assert.Equal([Mode.NoLoad], modes.Select(m => m.Mode));
    }

    [Fact]
    public void A_log_cut_to_the_charge_is_one_charge()
    {
        var finding = Find(6000, 1, t => t < 4000 ? 9.5 + (t / 8000) : (10 * Math.Exp(-(t - 4000) / 800)) + 0.3);
        Assert.Equal([Mode.Charge], finding.Modes.Select(m => m.Mode));
        Assert.Contains(finding.Doubts, d => d.Text.Contains("cut short", StringComparison.Ordinal));
    }

    [Fact]
    public void Hours_of_maintenance_with_top_ups_are_no_charges()
    {
        var finding = Find(40000, 1, t => t < 3000 ? 10 : t < 6000 ? (9.6 * Math.Exp(-(t - 3000) / 1200)) + 0.4 : t % 1800 < 120 ? 4 : 0.4);
        Assert.Equal([Mode.Charge, Mode.Maintenance], finding.Modes.Select(m => m.Mode));
        Assert.InRange(finding.Modes[1].StartS, 5995, 6130);
        Assert.True(finding.Details.Count(d => d.Kind == ModeDetailKind.TopUp) >= 15);
    }

    [Fact]
    public void Two_charges_with_the_device_away_between_are_two()
    {
        double Power(double t)
        {
            double since = t % 12000;
            return since < 1000 ? 0.15 : since < 5000 ? 8 : since < 7000 ? (7.6 * Math.Exp(-(since - 5000) / 900)) + 0.4 : since < 9000
                ? 0.4
                : 0.15;
        }

        var modes = Find(24000, 1, Power).Modes;
        Assert.Equal(
            [Mode.NoLoad, Mode.Charge, Mode.Maintenance, Mode.NoLoad, Mode.Charge, Mode.Maintenance, Mode.NoLoad],
            modes.Select(m => m.Mode));
        Assert.All([(1, 1000.0), (4, 13000.0), (3, 9000.0)], b => Assert.InRange(modes[b.Item1].StartS, b.Item2 - 1.5, b.Item2 + 1.5));
    }

    [Fact]
    public void A_pause_for_heat_does_not_split_a_charge()
    {
        var finding =
            Find(9000, 1, t => t is > 2000 and < 2240 ? 0.6 : t < 5000 ? 10 : t < 7000 ? (9.5 * Math.Exp(-(t - 5000) / 700)) + 0.5 : 0.35);
        Assert.Equal([Mode.Charge, Mode.Maintenance], finding.Modes.Select(m => m.Mode));
        var pause = Assert.Single(finding.Details, d => d.Kind == ModeDetailKind.Pause);
        Assert.InRange(pause.StartS, 1980, 2020);
        Assert.Contains(finding.Details, d => d.Kind == ModeDetailKind.Taper);
    }

    [Fact]
    public void Attempts_to_place_the_device_are_not_part_of_the_charge()
    {
        var finding = Find(6000, 1, t => t is > 900 and < 915 or > 930 and < 940 ? 6 : t < 960 ? 0.2 : t < 5000 ? 9 : 0.3);
        Assert.Equal([Mode.NoLoad, Mode.Charge], finding.Modes.Take(2).Select(m => m.Mode));
        Assert.InRange(finding.Modes[1].StartS, 958, 962);
    }

    [Fact]
    public void A_standby_log_holds_no_charge_whatever_it_draws()
    {
        var modes = Find(3000, 1, _ => 3, ModeOptions.Default with { Purpose = LogPurpose.Standby }).Modes;
        Assert.Equal([Mode.NoLoad], modes.Select(m => m.Mode));
    }

    [Fact]
    public void Power_that_flows_back_is_named()
    {
        var finding = Find(4000, 1, t => t < 3000 ? 8 : -1.5);
        Assert.Contains(finding.Doubts, d => d.Text.Contains("flows back", StringComparison.Ordinal));
    }

    [Fact]
    public void A_log_without_rows_has_no_modes() => Assert.Empty(ModeFinder.Find(new PowerEnvelope(0), ModeOptions.Default).Modes);

    [Fact]
    public void Modes_follow_one_another_without_holes_over_the_whole_log()
    {
        for (int number = 0; number < 12; number++)
        {
            var log = SecondShapes.Make(500 + number);
            var modes = ModeFinder.Find(log.Envelope(), ModeOptions.Default).Modes;
            Assert.Equal(0, modes[0].StartS);
            Assert.Equal(log.TimeS[^1], modes[^1].EndS, 6);
            Assert.All(modes.Zip(modes.Skip(1)), pair => Assert.Equal(pair.First.EndS, pair.Second.StartS));
            Assert.All(modes, m => Assert.True(m.DurationS > 0));
            Assert.Equal(0, modes[0].StartUncertaintyS);
            Assert.All(modes.Skip(1), m => Assert.True(m.StartUncertaintyS > 0));
        }
    }

    private static ModeFinding Find(double lengthS, double intervalS, Func<double, double> powerW, ModeOptions? options = null)
    {
        var random = new TruthRandom(42);
        var envelope = PowerEnvelope.ForInterval(intervalS);
        double last = 0;
        for (int i = 0; i * intervalS <= lengthS; i++)
        {
            double t = i * intervalS;
            double p = powerW(t) == 0 ? 0 : powerW(t) + (0.004 * random.Gauss());
            envelope.AddReading(t, p);
            if (i > 0)
            {
                envelope.AddInterval(new PowerInterval(t - intervalS, t, last, p));
            }

            last = p;
        }

        return ModeFinder.Find(envelope, options ?? ModeOptions.Default);
    }
}
