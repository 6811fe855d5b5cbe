using ChargeAudit.Measuring.Integration;
using ChargeAudit.Measuring.Segmentation;
using ChargeAudit.Tests.Measuring.Segmentation.Truth;

namespace ChargeAudit.Tests.Measuring.Segmentation;

/// <summary>
/// A battery of known state: while its voltage is held, power into it is proportional to what is still missing, so that power tells the
/// state. By cable P = 0.05 W + P_b/0.9 with at most 10 W into the battery, by pad P = 0.7 W + P_b/0.68 with at most 7 W.
/// </summary>
public sealed class EndOfChargeTests
{
    private const double MissingPerWattJ = 1500;
    private const double CutOffW = 0.35;
    private static readonly Side Cable = new(0.05, 0.9, 10);
    private static readonly Side Pad = new(0.7, 0.68, 7);

    [Fact]
    public void The_plain_share_ends_pad_and_cable_at_different_battery_states()
    {
        var (cable, pad) = Ends();
        double cableLeft = Cable.MissingShareAt(cable.By(EndRule.PlainShare).EndS!.Value);
        double padLeft = Pad.MissingShareAt(pad.By(EndRule.PlainShare).EndS!.Value);

        // By hand: a tenth of 11.16 W less 0.05 W, times 0.9, is 0.959 W into the battery; a tenth of 10.99 W less 0.7 W, times 0.68, is
        // 0.272 W, below the cut-off: the pad's charge runs to its very end.
        Assert.InRange(cableLeft / Cable.PerJoule, 0.94 * MissingPerWattJ, 0.98 * MissingPerWattJ);
        Assert.True(padLeft < 0.45 * cableLeft, $"cable {cableLeft}, pad {padLeft}");
    }

    [Fact]
    public void With_the_floor_taken_off_both_end_at_the_same_battery_state()
    {
        var (cable, pad) = Ends();
        double cableLeft = Cable.MissingShareAt(cable.By(EndRule.ShareAboveFloor).EndS!.Value);
        double padLeft = Pad.MissingShareAt(pad.By(EndRule.ShareAboveFloor).EndS!.Value);
        Assert.InRange(padLeft / cableLeft, 0.97, 1.03);
        Assert.True(cableLeft > 0);
    }

    [Fact]
    public void Our_ratio_is_the_true_one_and_the_plain_ratio_is_not()
    {
        var (cable, pad) = Ends();
        double threshold = 0.7;
        double truth = Pad.EnergyTo(Pad.TimeAt(threshold)) / Cable.EnergyTo(Cable.TimeAt(threshold));
        double ours = pad.By(EndRule.ShareAboveFloor).EnergyJ / cable.By(EndRule.ShareAboveFloor).EnergyJ;
        double plain = pad.By(EndRule.PlainShare).EnergyJ / cable.By(EndRule.PlainShare).EnergyJ;
        Assert.InRange((ours / truth) - 1, -0.002, 0.002);
        Assert.True((plain / truth) - 1 > 0.015, $"true {truth}, plain {plain}");
    }

    [Fact]
    public void A_log_that_stops_in_the_fall_has_no_end()
    {
        var log = Cable.Measured(stopBeforeEndS: 2500);
        var (ends, _) = EndOfCharge.FindAlike(log, log);
        Assert.Null(ends.By(EndRule.ChangePoint).EndS);
        Assert.NotNull(ends.By(EndRule.ChangePoint).WhyNot);
        Assert.Null(ends.By(EndRule.ShareAboveFloor).EndS);
    }

    [Fact]
    public void The_change_point_is_where_the_charger_stops()
    {
        var (cable, _) = Ends();
        Assert.InRange(cable.By(EndRule.ChangePoint).EndS!.Value, Cable.EndS - 3, Cable.EndS + 3);
    }

    private static (ChargeEnds Cable, ChargeEnds Pad) Ends() => EndOfCharge.FindAlike(Cable.Measured(), Pad.Measured());

    private sealed record Side(double FloorW, double Efficiency, double MostW)
    {
        private const double ToFillJ = 40000;

        public double PerJoule => 1 / ToFillJ;

        private double ConstantS => (ToFillJ - (MissingPerWattJ * MostW)) / MostW;

        public double EndS => TimeAt(CutOffW);

        public double TimeAt(double batteryW) => ConstantS + (MissingPerWattJ * Math.Log(MostW / batteryW));

        public double MissingShareAt(double timeS) => MissingPerWattJ * BatteryW(timeS) / ToFillJ;

        public double EnergyTo(double timeS) => (FloorW * timeS) + ((ToFillJ - (MissingPerWattJ * BatteryW(timeS))) / Efficiency);

        public (PowerEnvelope Envelope, ModeFinding Finding, ModeSpan Charge) Measured(double stopBeforeEndS = -3600)
        {
            var random = new TruthRandom(11);
            var envelope = PowerEnvelope.ForInterval(1);
            double last = 0;
            for (int i = 0; i < EndS - stopBeforeEndS; i++)
            {
                double p = FloorW + (i < EndS ? BatteryW(i) / Efficiency : 0) + (0.003 * random.Gauss());
                envelope.AddReading(i, p);
                if (i > 0)
                {
                    envelope.AddInterval(new PowerInterval(i - 1, i, last, p));
                }

                last = p;
            }

            var finding = ModeFinder.Find(envelope, ModeOptions.Default);
            return (envelope, finding, finding.Modes.Single(m => m.Mode == Mode.Charge));
        }

        private double BatteryW(double timeS) => timeS < ConstantS ? MostW : MostW * Math.Exp(-(timeS - ConstantS) / MissingPerWattJ);
    }
}
