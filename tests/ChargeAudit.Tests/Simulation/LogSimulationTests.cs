using System.Globalization;
using ChargeAudit.Logs;
using ChargeAudit.Measuring.Segmentation;
using ChargeAudit.Metrology;
using ChargeAudit.Simulation;
using ChargeAudit.Simulation.Physics;
using ChargeAudit.Simulation.Scenarios;

namespace ChargeAudit.Tests.Simulation;

public sealed class LogSimulationTests
{
    private static readonly MeterModel Exact = new()
    {
        Name = "exact",
        Point = MeasuringPoint.Wall,
        Samples = SampleKind.AverageEnding,
        IntervalS = 2,
        Columns = [new MeterColumn { Quantity = LogQuantity.Power, Header = "P", Factor = 1, Step = 1e-9 }],
    };

    [Fact]
    public void Averages_times_their_interval_are_the_exact_energy()
    {
        (SimulatedRun run, _, string[][] rows) = SmallScenario.OneLog(Exact);
        double logged = rows.Sum(r => Number(r[1])) * 2;
        double lengthS = rows.Length * 2;
        double exact = run.Trace.Steps.Where(s => s.EndS <= lengthS).Sum(s => s.WallW * s.DurationS);
        // The step of 1 nW leaves at most half of it a row.
        Assert.Equal(exact, logged, lengthS * 1e-9);
    }

    [Fact]
    public void Averages_that_start_at_their_stamp_are_the_same_readings_one_interval_earlier()
    {
        MeterModel stamped = Exact with { Dialect = new MeterDialect { Time = TimeForm.IsoUtc } };
        string[][] ending = SmallScenario.OneLog(stamped).Rows;
        string[][] starting = SmallScenario.OneLog(stamped with { Samples = SampleKind.AverageStarting }).Rows;
        Assert.Equal(ending.Select(r => r[1]), starting.Select(r => r[1]));
        Assert.Equal(ending[0][0], starting[1][0]);
    }

    [Fact]
    public void An_instantaneous_reading_is_the_value_of_its_moment()
    {
        (SimulatedRun run, _, string[][] rows) = SmallScenario.OneLog(Exact with { Samples = SampleKind.Instantaneous, IntervalS = 3 });
        for (int i = 0; i < rows.Length; i += 37)
        {
            double timeS = Number(rows[i][0]);
            FlowStep step = run.Trace.Steps.Last(s => s.StartS <= timeS);
            Assert.Equal(step.WallW, Number(rows[i][1]), 1e-9);
        }
    }

    /// <summary>Pulses every 0.5 s, read every 1 s: an instantaneous meter sees all or none, an averaging one their mean.</summary>
    [Fact]
    public void Slow_moments_miss_pulses_that_averages_carry()
    {
        SimulationScenario scenario = SmallScenario.Sample with { Runs = [] };
        RunPlan waiting = scenario.Waiting[1];
        waiting = waiting with { Method = waiting.Method with { Pad = waiting.Method.Pad! with { PulseEveryS = 0.5 } } };
        double Mean(SampleKind kind)
        {
            MeterModel meter = Exact with { Samples = kind, IntervalS = 1 };
            SimulatedRun run =
                Simulator.Run(scenario with { Meters = [meter], Waiting = [waiting with { Meters = [meter] }] }, 1).Waiting[0];
            return run.Logs[0].Text.TrimEnd().Split('\n').Skip(1).Average(l => Number(l.Split(',')[1]));
        }

        double truth = Simulator.Run(scenario with { Waiting = [waiting] }, 1).Waiting[0].Trace.MeanW(MeasuringPoint.Wall, Mode.NoLoad);
        Assert.Equal(truth, Mean(SampleKind.AverageEnding), 1e-4);
        Assert.True(Math.Abs(Mean(SampleKind.Instantaneous) - truth) > 0.05);
    }

    [Fact]
    public void Errors_are_within_the_stated_accuracy_and_the_same_in_every_log_of_a_meter()
    {
        SimulationScenario scenario = SmallScenario.Short();
        MeterModel meter = Exact with
        {
            Columns = [Exact.Columns[0] with { Accuracy = "0.5 % + 10 mW", GainHalfWidth = 0.005, OffsetHalfWidth = 0.01 }],
        };
        scenario = scenario with { Meters = [meter], Runs = [.. scenario.Runs.Select(r => r with { Meters = [meter] })] };
        HashSet<double> gains = [];
        for (ulong seed = 1; seed <= 20; seed++)
        {
            SimulatedStudy study = Simulator.Run(scenario, seed);
            var error = study.MeterErrors[0].Of(LogQuantity.Power);
            Assert.InRange(error.Gain, -0.005, 0.005);
            Assert.InRange(error.Offset, -0.01, 0.01);
            gains.Add(error.Gain);
            foreach (SimulatedRun run in study.Runs)
            {
                double logged = run.Logs[0].Text.TrimEnd().Split('\n').Skip(1).Sum(l => Number(l.Split(',')[1])) * 2;
                double lengthS = run.Logs[0].Rows * 2;
                double exact = run.Trace.Steps.Where(s => s.EndS <= lengthS).Sum(s => s.WallW * s.DurationS);
                Assert.Equal((exact * (1 + error.Gain)) + (error.Offset * lengthS), logged, 1e-5);
            }
        }

        Assert.Equal(20, gains.Count);
    }

    [Fact]
    public void A_clock_that_is_ahead_shifts_the_stamps_and_not_the_readings()
    {
        MeterModel meter = Exact with
        {
            Samples = SampleKind.Instantaneous,
            IntervalS = 1,
            Dialect = new MeterDialect { Time = TimeForm.EpochSeconds },
        };
        string[][] right = SmallScenario.OneLog(meter).Rows;
        string[][] ahead = SmallScenario.OneLog(meter, new LogMishap { Meter = "exact", ClockAheadS = 23 }).Rows;
        Assert.Equal(right.Select(r => r[1]), ahead.Select(r => r[1]));
        Assert.All(right.Zip(ahead), p => Assert.Equal(23, Number(p.Second[0]) - Number(p.First[0])));
    }

    [Fact]
    public void A_fast_clock_writes_more_rows()
    {
        int right = SmallScenario.OneLog(Exact).Rows.Length;
        int fast = SmallScenario.OneLog(Exact with { ClockDrift = 0.01 }).Rows.Length;
        Assert.Equal(right * 1.01, fast, 2.0);
    }

    [Fact]
    public void A_gap_leaves_rows_out_and_the_counter_goes_on()
    {
        MeterModel meter = Exact with
        {
            Columns = [.. Exact.Columns, new MeterColumn { Quantity = LogQuantity.Energy, Header = "E", Factor = 3600, Step = 1e-6 }],
        };
        LogMishap gap = new() { Meter = "exact", GapFromS = 200, GapLengthS = 60 };
        string[][] whole = SmallScenario.OneLog(meter).Rows;
        (SimulatedRun run, _, string[][] rows) = SmallScenario.OneLog(meter, gap);
        Assert.Equal(whole.Length - 30, rows.Length);
        Assert.Equal(30, run.Logs[0].RowsLost);
        Assert.Equal(whole[^1][2], rows[^1][2]);
        double hoursOfGap = rows.Zip(rows.Skip(1)).Max(p => Number(p.Second[0]) - Number(p.First[0]));
        Assert.Equal(62, hoursOfGap);
    }

    [Fact]
    public void A_counter_reset_falls_to_zero_once()
    {
        MeterModel meter = Exact with
        {
            Columns = [new MeterColumn { Quantity = LogQuantity.Energy, Header = "E", Factor = 3600, Step = 1e-4 }],
        };
        string[][] rows = SmallScenario.OneLog(meter, new LogMishap { Meter = "exact", CounterResetAtS = 400 }).Rows;
        double[] counter = [.. rows.Select(r => Number(r[1]))];
        int fall = Assert.Single(Enumerable.Range(1, counter.Length - 1), i => counter[i] < counter[i - 1]);
        Assert.Equal(0, counter[fall]);
        Assert.Equal(398, Number(rows[fall][0]));
    }

    [Fact]
    public void Lost_rows_are_about_as_many_as_asked_for()
    {
        (SimulatedRun run, _, string[][] rows) = SmallScenario.OneLog(Exact with { LostShare = 0.1 });
        int all = rows.Length + run.Logs[0].RowsLost;
        // Five standard deviations of a binomial.
        Assert.InRange(run.Logs[0].RowsLost, (0.1 * all) - (5 * Math.Sqrt(0.09 * all)), (0.1 * all) + (5 * Math.Sqrt(0.09 * all)));
    }

    [Theory]
    [InlineData(TimeForm.Elapsed, 0, "0")]
    [InlineData(TimeForm.Elapsed, 1, "0.0")]
    [InlineData(TimeForm.IsoOffset, 0, "2026-03-02T18:00:02+01:00")]
    [InlineData(TimeForm.IsoUtc, 3, "2026-03-02T17:00:02.000Z")]
    [InlineData(TimeForm.IsoLocal, 0, "2026-03-02 18:00:02")]
    [InlineData(TimeForm.EpochSeconds, 0, "1772470802")]
    [InlineData(TimeForm.EpochMilliseconds, 0, "1772470802000")]
    public void Times_are_written_in_the_meters_form(TimeForm form, int digits, string first)
    {
        string[][] rows = SmallScenario.OneLog(Exact with { Dialect = new MeterDialect { Time = form, TimeDigits = digits } }).Rows;
        Assert.Equal(first, rows[0][0]);
    }

    [Fact]
    public void Date_and_clock_stand_in_two_columns_and_a_comma_can_be_the_decimal_sign()
    {
        MeterDialect dialect = new()
        {
            Time = TimeForm.DateAndClock,
            TimeHeader = "Date|Clock",
            Separator = ';',
            DecimalSign = ',',
            CarriageReturn = true,
            Preamble = [],
        };
        (SimulatedRun run, string[] header, string[][] rows) = SmallScenario.OneLog(Exact with
        {
            Columns = [Exact.Columns[0] with { Step = 0.001 }],
            Dialect = dialect,
        });
        Assert.Equal(["Date", "Clock", "P"], header);
        Assert.Equal(["2026-03-02", "18:00:02"], rows[0][..2]);
        Assert.Equal("0,048", rows[0][2]);
        Assert.Contains("\r\n", run.Logs[0].Text, StringComparison.Ordinal);
    }

    [Fact]
    public void Units_and_steps_are_those_of_the_column()
    {
        MeterModel meter = Exact with
        {
            Columns = [new MeterColumn { Quantity = LogQuantity.Current, Header = "I [mA]", Factor = 1e-3, Step = 0.5 }, new MeterColumn
            {
                Quantity = LogQuantity.ApparentPower,
                Header = "S",
                Factor = 1,
                Step = 0.01,
            }],
        };
        (SimulatedRun run, _, string[][] rows) = SmallScenario.OneLog(meter with { Samples = SampleKind.Instantaneous });
        Assert.All(rows, r => Assert.Equal(0, Number(r[1]) % 0.5));
        FlowStep first = run.Trace.Steps[0];
        Assert.Equal(1000 * first.CurrentA(MeasuringPoint.Wall), Number(rows[0][1]), 0.25);
        Assert.Equal(first.WallW / first.PowerFactor, Number(rows[0][2]), 0.005001);
        Assert.True(first.WallW < 0.2 * first.CurrentA(MeasuringPoint.Wall) * first.MainsV, "apparent power is no real power");
    }

    private static double Number(string text) => double.Parse(text, CultureInfo.InvariantCulture);
}
