using ChargeAudit.Comparing.Auditing;
using ChargeAudit.Comparing.Runs;
using ChargeAudit.Logs;
using ChargeAudit.Measuring;
using ChargeAudit.Measuring.Segmentation;
using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.Tests.Comparing.Auditing;

/// <summary>What follows a charge is the full device only where the same log tells it from the waiting charger.</summary>
public sealed class FullOrWaitingTests
{
    // 0.02 W between the two, and 0.01 W of scatter in each: 1.4 standard uncertainties. With 0.002 W, seven.
    [Theory]
    [InlineData(0.01, false)]
    [InlineData(0.002, true)]
    public void A_level_that_cannot_be_told_from_the_waiting_charger_is_none_of_the_full_device(double scatterW, bool told)
    {
        var full = FullOrWaiting.Of(Level(0.22, scatterW, "after"), [Waiting(0.20, scatterW, "before")], "pad.csv");

        Assert.Equal(told, full.Value is not null);
        if (!told)
        {
            Assert.Contains("pad.csv shows 0.22 W after the charge and 0.2 W while waiting", full.WhyNot, StringComparison.Ordinal);
        }
    }

    [Fact]
    public void What_the_meter_shows_wrongly_at_both_levels_cancels()
    {
        var offset = new UncertaintyComponent(new InfluenceSource("offset-of-the-meter"), 0.05);
        var after = Level(0.22, 0.002, "after").Value!.Plus(offset);
        var before = Waiting(0.20, 0.002, "before");
        before = before with { MeanPower = Figure.Of(before.MeanPower.Value!.Plus(offset)) };

        Assert.NotNull(FullOrWaiting.Of(Figure.Of(after), [before], "pad.csv").Value);
    }

    // The longer stretch of waiting counts for more: 0.21 W over 900 of 1000 s, so 0.209 W, which 0.22 W is clear of.
    [Fact]
    public void Stretches_of_waiting_count_by_their_length()
    {
        ModeResult[] waiting = [Waiting(0.20, 0.002, "a", 100), Waiting(0.21, 0.002, "b", 900)];

        Assert.NotNull(FullOrWaiting.Of(Level(0.22, 0.002, "after"), waiting, "pad.csv").Value);
        Assert.Null(FullOrWaiting.Of(Level(0.209, 0.002, "after"), waiting, "pad.csv").Value);
    }

    [Fact]
    public void Where_no_waiting_was_logged_nothing_speaks_against_the_full_device()
    {
        var full = Level(0.22, 0.5, "after");

        Assert.Same(full, FullOrWaiting.Of(full, [], "pad.csv"));
    }

    // Three runs at 0.05 W, and one in whose short log a top-up fell: 0.43 W, which its own log cannot tell from 0.04 W while waiting.
    // Without it the mean would be 0.05 W for certain.
    [Fact]
    public void A_run_that_takes_no_less_than_those_that_show_the_full_device_clearly_shows_it_too()
    {
        RunResult[] runs = [Run("a", 0.43, clear: false), Run("b", 0.050), Run("c", 0.052), Run("d", 0.051)];

        var (shown, powers) = FullOrWaiting.Shown(runs, MeasuringPoint.Usb);

        Assert.Equal(["a", "b", "c", "d"], shown.Select(r => r.Id));
        Assert.Equal([0.43, 0.050, 0.052, 0.051], powers.Select(p => p.Value));
    }

    [Fact]
    public void A_run_that_takes_less_may_be_the_waiting_charger_and_one_alone_shows_nothing()
    {
        Assert.Equal(["b"], FullOrWaiting.Shown([Run("a", 0.04, clear: false), Run("b", 0.05)], MeasuringPoint.Usb).Runs.Select(r => r.Id));
        Assert.Empty(FullOrWaiting.Shown([Run("a", 0.43, clear: false)], MeasuringPoint.Usb).Runs);
    }

    private static RunResult Run(string id, double powerW, bool clear = true)
    {
        var power = Level(powerW, clear ? 0.001 : 0.5, id);
        var charge = new ModeSpan(Mode.Charge, 0, 3600, 0, 0);
        var at = new RunPointResult(null!, null, charge, Measured.Exact(15, "Wh"), clear ? power : Figure.None("-"))
        {
            FullOrWaiting = clear ? null : power.Value,
        };
        return new RunResult { Id = id, Points = new Dictionary<MeasuringPoint, RunPointResult> { [MeasuringPoint.Usb] = at } };
    }

    private static Figure Level(double powerW, double scatterW, string name) =>
        Figure.Of(Measured.From(powerW, "W", [new UncertaintyComponent(new InfluenceSource(name), scatterW)]));

    private static ModeResult Waiting(double powerW, double scatterW, string name, double lengthS = 600) => new(
        new ModeSpan(Mode.NoLoad, 0, lengthS, 0, 0),
        Measured.Exact(powerW * lengthS / 3600, "Wh"),
        Level(powerW, scatterW, name));
}
