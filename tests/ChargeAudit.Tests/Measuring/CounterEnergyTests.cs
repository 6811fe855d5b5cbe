using System.Globalization;
using System.Text;
using ChargeAudit.Logs;
using ChargeAudit.Measuring;
using ChargeAudit.Measuring.Segmentation;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;

namespace ChargeAudit.Tests.Measuring;

/// <summary>Energies taken from the counter of a log, against closed forms.</summary>
public sealed class CounterEnergyTests
{
    private const double Wait = 0.3;

    // Waits, charges at 12 W with a taper, waits again. Energy since the start in closed form. [J]
    private static double TrueJ(double t)
    {
        double E(double x) => x < 600 ? Wait * x
            : x < 3600 ? (Wait * 600) + (12 * (x - 600))
            : x < 6000 ? (Wait * 600) + 36_000 + (12 * 800 * (1 - Math.Exp(-(x - 3600) / 800)))
            : (Wait * 600) + 36_000 + (12 * 800 * (1 - Math.Exp(-3))) + (Wait * (x - 6000));
        return E(t);
    }

    public static TheoryData<double, double> StepsAndIntervals => new()
    {
        { 0.001, 1 }, { 0.01, 1 }, { 0.1, 1 }, { 1, 1 }, { 0.01, 10 }, { 0.1, 10 }, { 1, 10 }, { 10, 10 }, { 0.01, 60 }, { 0.1, 60 },
            { 1, 60 }, { 0.1, 300 }, { 1, 300 },
    };

    [Theory]
    [MemberData(nameof(StepsAndIntervals))]
    public void The_interval_holds_the_energy_at_nearly_every_phase_of_the_counter(double stepWh, double intervalS)
    {
        const int Phases = 20;
        int held = 0;
        for (int k = 0; k < Phases; k++)
        {
            double phaseWh = 100 + (stepWh * (k + 0.5) / Phases);
            var energy = Measure(CounterLog(stepWh, intervalS, phaseWh)).Energy.Interval()!.Value;
            double trueWh = TrueJ(9000) / 3600;
            held += trueWh >= energy.Low && trueWh <= energy.High ? 1 : 0;

            // Two ends known to half a step each: a triangle on ±step.
            Assert.Equal(stepWh * (1 - Math.Sqrt(0.05)), 0.5 * (energy.High - energy.Low), 0.02 * stepWh);
        }

        // An energy errs by the fraction of a step in it, or by what that fraction lacks to a whole step, so it is missed at 22 % of phases
        // at worst; the 95 % hold over all energies.
        Assert.InRange(held, 15, 20);
    }

    [Theory]
    [InlineData(0.001, 1)]
    [InlineData(0.01, 1)]
    [InlineData(0.1, 1)]
    [InlineData(0.1, 10)]
    [InlineData(1, 10)]
    [InlineData(0.01, 60)]
    public void A_counter_alone_shows_one_charge_and_no_pulses(double stepWh, double intervalS)
    {
        var log = Measure(CounterLog(stepWh, intervalS, 100.37));
        var charge = Assert.Single(log.Modes, m => m.Span.Mode == Mode.Charge);
        Assert.InRange(charge.Span.StartS, 600 - Math.Max(360 * stepWh, Math.Min(15, 3600 * stepWh / Wait)) - (2 * intervalS) - 1, 600
            + (360 * stepWh) + (2 * intervalS) + 1);
        Assert.True(log.PeakPowerW < 1.6 * 12, $"a peak of {log.PeakPowerW} W");
    }

    [Fact]
    public void A_counter_that_starts_at_zero_errs_one_way()
    {
        int held = 0;
        for (int k = 0; k < 40; k++)
        {
            // The end of the log, not the start, meets the counter at any phase.
            double endS = 8000 + (25 * k);
            var energy = Measure(CounterLog(1, 10, 0, endS)).Energy.Interval()!.Value;
            double trueWh = TrueJ(endS) / 3600;
            held += trueWh >= energy.Low && trueWh <= energy.High ? 1 : 0;
        }

        Assert.InRange(held, 37, 40);
    }

    [Fact]
    public void A_counter_that_never_moves_gives_an_upper_bound_and_a_doubt()
    {
        var log = Measure("Time (s),Energy (kWh)\n" + string.Concat(Enumerable.Range(0, 600).Select(i => $"{10 * i},1.23\n")),
            "energy=1 % resolution 10 Wh");
        Assert.Contains(log.Doubts, d => d.Text.Contains("did not move", StringComparison.Ordinal));
        Assert.True(log.Energy.UnknownBecause is not null || log.Energy.Interval()!.Value.High > 5);
    }

    [Fact]
    public void Bad_readings_of_a_counter_are_a_fault_with_their_line()
    {
        string[] rows = CounterLog(0.01, 1, 100.37).Split('\n');
        rows[2001] = "2000,0.00";
        rows[3001] = "3000,907.00";
        var log = Measure(string.Join('\n', rows));
        var fault = Assert.Single(log.Faults, f => f.Kind == FaultKind.CounterReading);
        Assert.Equal((2002L, 3002L, 2L), (fault.FirstLine, fault.LastLine, fault.Count));
        Assert.Equal(TrueJ(9000) / 3600, log.Energy.Value, 0.01);
    }

    [Fact]
    public void A_gap_takes_the_counter_where_it_is_surer()
    {
        var text = new StringBuilder("Time (s),Power (W),Energy (Wh)\n");
        for (int t = 0; t <= 9000; t++)
        {
            if (t is < 3000 or > 4800)
            {
                text.Append(CultureInfo.InvariantCulture, $"{t},{TrueJ(t + 0.5) - TrueJ(t - 0.5):F3},{100 + (TrueJ(t) / 3600):F3}\n");
            }
        }

        var log = Measure(text.ToString());
        Assert.Equal(TrueJ(9000) / 3600, log.Energy.Value, 0.01);
        Assert.True(log.Energy.StandardUncertainty < 0.05);
    }

    [Fact]
    public void Where_counter_and_readings_disagree_the_interval_covers_both()
    {
        var text = new StringBuilder("Time (s),Power (W),Energy (Wh)\n");
        for (int t = 0; t <= 3600; t += 2)
        {
            text.Append(CultureInfo.InvariantCulture, $"{t},10.000,{50 + (1.15 * 10 * t / 3600):F3}\n");
        }

        var log = Measure(text.ToString());
        var interval = log.Energy.Interval()!.Value;
        Assert.InRange(10, interval.Low, interval.High);
        Assert.InRange(11.5, interval.Low, interval.High);
        Assert.Contains(log.Faults, f => f.Kind == FaultKind.CounterMismatch);
    }

    private static string CounterLog(double stepWh, double intervalS, double phaseWh, double endS = 9000)
    {
        int digits = Math.Max(0, (int)Math.Ceiling(-Math.Log10(stepWh) - 1e-9));
        var text = new StringBuilder("Time (s),Energy (Wh)\n");
        for (int i = 0; i * intervalS <= endS; i++)
        {
            double shown = Math.Floor(((phaseWh + (TrueJ(i * intervalS) / 3600)) / stepWh) + 1e-9) * stepWh;
            text.Append(CultureInfo.InvariantCulture, $"{i * intervalS},")
                .Append(shown.ToString("F" + digits.ToString(CultureInfo.InvariantCulture), CultureInfo.InvariantCulture)).Append('\n');
        }

        return text.ToString();
    }

    private static LogMeasurement Measure(string text, string energy = "energy=0.0001 %")
    {
        string path = Path.GetTempFileName();
        try
        {
            File.WriteAllText(path, text);
            var meter = new Meter
            {
                Name = "invented",
                Options = new LogOptions { Point = MeasuringPoint.Wall, Samples = SampleKind.Instantaneous },
                Accuracy = DataSheet.Of((LogQuantity.Power, "0.1 %"), (LogQuantity.Energy, energy["energy=".Length..])),
            };
            return LogMeasurer.Measure(new MeasureRequest { Paths = [path], Meter = meter },
                cancellation: TestContext.Current.CancellationToken).Result;
        }
        finally
        {
            File.Delete(path);
        }
    }
}
