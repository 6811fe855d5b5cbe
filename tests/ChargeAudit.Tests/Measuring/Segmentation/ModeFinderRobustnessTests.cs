using ChargeAudit.Measuring.Integration;
using ChargeAudit.Measuring.Segmentation;
using ChargeAudit.Tests.Measuring.Segmentation.Truth;

namespace ChargeAudit.Tests.Measuring.Segmentation;

/// <summary>Whatever a log holds, its modes cover it in order; nothing throws.</summary>
public sealed class ModeFinderRobustnessTests
{
    [Fact]
    public void Any_log_is_covered_by_its_modes_in_order()
    {
        for (ulong seed = 0; seed < 400; seed++)
        {
            var envelope = RandomLog(new TruthRandom(31_000 + seed), out double endS);
            var finding = ModeFinder.Find(envelope, ModeOptions.Default);
            if (finding.Modes.Count == 0)
            {
                Assert.Equal(0, endS);
                continue;
            }

            Assert.Equal(envelope.OriginS, finding.Modes[0].StartS);
            Assert.True(finding.Modes[^1].EndS >= endS - 1e-6
                || finding.Modes[^1].EndS >= envelope.StartS(envelope.Count - 1), $"seed {seed}");
            Assert.All(finding.Modes.Zip(finding.Modes.Skip(1)), pair => Assert.Equal(pair.First.EndS, pair.Second.StartS));
            Assert.All(finding.Modes,
                m => Assert.True(m.EndS > m.StartS && double.IsFinite(m.StartUncertaintyS)
                && double.IsFinite(m.EndUncertaintyS), $"seed {seed}: {m}"));
            foreach (var charge in finding.Modes.Where(m => m.Mode == Mode.Charge))
            {
                var ends = EndOfCharge.FindAlike((envelope, finding, charge), (envelope, finding, charge)).Reference.Ends;
                Assert.All(ends,
                    e => Assert.True(e.EndS is null ? e.WhyNot is not null : double.IsFinite(e.UncertaintyS)
                    && e.EnergyJ != 0, $"seed {seed}: {e}"));
            }
        }
    }

    [Fact]
    public void The_same_power_a_thousand_times_as_large_has_the_same_modes_but_for_the_charge_ceiling()
    {
        // Levels are shares of what the log shows; only a log of one level looks at watts.
        for (int number = 4; number < 10; number++)
        {
            var log = FirstShapes.Make(number);
            var larger = log with { PowerW = [.. log.PowerW.Select(p => 1000 * p)] };
            var modes = ModeFinder.Find(log.Envelope(), ModeOptions.Default).Modes;
            var modesOfLarger = ModeFinder.Find(larger.Envelope(), ModeOptions.Default).Modes;
            Assert.Equal(modes.Select(m => m.Mode), modesOfLarger.Select(m => m.Mode));
        }
    }

    private static PowerEnvelope RandomLog(TruthRandom random, out double endS)
    {
        double interval = random.Of(0.1, 1.0, 7.0, 60.0, 900.0);
        int rows = random.Of(1, 2, 3, 5, 12, 60, 400, 1500);
        var envelope = PowerEnvelope.ForInterval(interval);
        double level = random.Of(0, 0.3, 5, 1e-4, 4000, -2);
        double noise = random.Of(0, 0.001, 0.1, 1);
        double time = 0;
        double last = level;
        envelope.AddReading(0, level);
        double end = 0;
        for (int i = 1; i < rows; i++)
        {
            level = random.Chance(0.02) ? random.Of(0, 0.2, 1, 8, 8, 20, -1) : level * (random.Chance(0.3) ? 0.995 : 1);
            double power = level + (noise * random.Gauss());
            bool gap = random.Chance(0.01);
            double next = time + (interval * (gap ? random.Between(5, 300) : random.Between(0.7, 1.3)));
            envelope.AddReading(next, power);
            if (!gap || random.Chance(0.5))
            {
                envelope.AddInterval(new PowerInterval(time, next, last, power, Bridged: gap));
                end = next;
            }

            time = next;
            last = power;
        }

        endS = end;
        return envelope;
    }
}
