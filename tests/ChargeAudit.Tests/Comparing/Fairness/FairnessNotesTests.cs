using ChargeAudit.Comparing.Fairness;
using ChargeAudit.Comparing.Methods;
using ChargeAudit.Comparing.Runs;
using ChargeAudit.Comparing.Yearly;
using ChargeAudit.Logs;
using ChargeAudit.Logs.Layout;
using ChargeAudit.Measuring;
using ChargeAudit.Measuring.Integration;
using ChargeAudit.Measuring.Segmentation;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Uncertainty;
using ChargeAudit.Studies;

namespace ChargeAudit.Tests.Comparing.Fairness;

public sealed class FairnessNotesTests
{
    private static readonly Study Study = new()
    {
        Title = "t",
        Reference = "cable",
        Methods = [new Method("cable", MethodKind.Wired), new Method("pad", MethodKind.Inductive)],
        Runs = [],
        Folder = "",
    };

    [Fact]
    public void Equal_runs_in_good_number_give_no_note() => Assert.Empty(Judge(Runs("cable", 3), Runs("pad", 3)));

    [Fact]
    public void Different_states_at_the_start_are_named_with_the_ratio_per_percent()
    {
        var note = Single("different-start-charge", Judge(Runs("cable", 3), Runs("pad", 3, startCharge: 25)));
        Assert.Contains("20 % fuller", note.Text, StringComparison.Ordinal);
        Assert.Contains("Per percent of charge", note.Text, StringComparison.Ordinal);
        Assert.Equal(6, note.Runs.Count);
    }

    [Fact]
    public void Runs_of_one_block_hold_for_that_one_alone()
    {
        var notes = Judge(InBlocks("cable", "Mon", "Mon", "Mon"), InBlocks("pad", "Mon", "Mon", "Mon")).Where(n =>
            n.Id == "blocks").ToList();
        Assert.Equal(2, notes.Count);
        Assert.Contains("All 3 runs of cable were made in one block (Mon)", notes[0].Text, StringComparison.Ordinal);
    }

    [Fact]
    public void Uneven_blocks_and_blocks_of_one_method_alone_are_named()
    {
        var notes = Judge(InBlocks("cable", "Mon", "Mon", "Tue"), InBlocks("pad", "Tue", "Wed", "Wed")).Where(n =>
            n.Id == "blocks").ToList();
        Assert.Equal(3, notes.Count);
        Assert.Contains("spread unevenly over blocks (Mon: 2, Tue: 1)", notes[0].Text, StringComparison.Ordinal);
        Assert.Contains("cable was run in Mon: 2, Tue: 1, pad in Tue: 1, Wed: 2", notes[2].Text, StringComparison.Ordinal);
        Assert.Equal(6, notes[2].Runs.Count);
    }

    [Fact]
    public void Even_blocks_of_both_methods_give_no_note() =>
        Assert.Empty(Judge(InBlocks("cable", "Mon", "Tue", "Wed"), InBlocks("pad", "Mon", "Tue", "Wed")));

    [Fact]
    public void Unknown_states_at_the_start_are_named() =>
        Single("unknown-start-charge", Judge(Runs("cable", 3), Runs("pad", 3, startCharge: null)));

    [Fact]
    public void Different_states_at_the_end_are_named() =>
        Single("different-end-charge", Judge(Runs("cable", 3), Runs("pad", 3, endCharge: 90)));

    [Fact]
    public void A_log_that_ends_at_high_power_is_cut_short()
    {
        var note = Single("cut-short", Judge(Runs("cable", 3), [.. Runs("pad", 2), Run("pad-3", new Setup { KeepS = 0 })]));
        Assert.Equal(["pad-3"], note.Runs);
    }

    [Fact]
    public void A_device_that_was_taken_off_at_high_power_is_cut_short_unless_its_charge_is_known()
    {
        var taken = new Setup { EndCharge = null, After = Mode.NoLoad };
        var note =
            Single("cut-short", [.. Judge(Runs("cable", 3), [.. Runs("pad", 2), Run("pad-3", taken)]).Where(n => n.Id == "cut-short")]);
        Assert.Equal(["pad-3"], note.Runs);
        Assert.Contains("straight to waiting", note.Text, StringComparison.Ordinal);
        Assert.DoesNotContain(Judge(Runs("cable", 3), [.. Runs("pad", 2), Run("pad-3", taken with { EndCharge = 100 })]), n => n.Id
            == "cut-short");
        Assert.DoesNotContain(Judge(Runs("cable", 3), [.. Runs("pad", 2), Run("pad-3", taken with { After = Mode.Maintenance })]), n => n.Id
            == "cut-short");
    }

    [Fact]
    public void Maintenance_of_different_length_is_named() =>
        Single("different-maintenance-length", Judge(Runs("cable", 3), Runs("pad", 3, keepS: 9000)));

    [Fact]
    public void Two_meters_at_a_point_are_named() => Single("different-meter", Judge(Runs("cable", 3), Runs("pad", 3, meter: "other")));

    [Fact]
    public void Different_voltages_are_named_with_the_trap_of_ampere_hours()
    {
        var note = Single("different-voltage", Judge(Runs("cable", 3, volt: 9), Runs("pad", 3, volt: 5)));
        Assert.Contains("ampere-hours", note.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void Rooms_of_different_warmth_are_named_and_rooms_alike_or_unknown_are_not()
    {
        var note = Single("different-temperature", Judge(Given("cable", 21), Given("pad", 27)));
        Assert.Contains("27.0 °C", note.Text, StringComparison.Ordinal);
        Assert.Contains("21.0 °C", note.Text, StringComparison.Ordinal);
        Assert.Empty(Judge(Given("cable", 21), Given("pad", 22.5)));
        Assert.Empty(Judge(Given("cable", 21), Given("pad", null)));
    }

    [Fact]
    public void Different_adapters_are_named_and_equal_or_unknown_ones_are_not()
    {
        var note = Single("different-adapter", Judge(Given("cable", null, "A20 (invented)"), Given("pad", null, "B15 (invented)")));
        Assert.Contains("A20 (invented)", note.Text, StringComparison.Ordinal);
        Assert.Equal(6, note.Runs.Count);
        Assert.Empty(Judge(Given("cable", null, "A20 (invented)"), Given("pad", null, "A20 (invented)")));
        Assert.Empty(Judge(Given("cable", null, "A20 (invented)"), Given("pad", null)));
    }

    [Theory]
    [InlineData(6600)]
    [InlineData(7800)]
    public void Maintenance_counts_from_where_the_device_said_it_was_full(double fullS)
    {
        // The device reports full ten minutes before or after the end seen in the power: both methods were kept for 1 h all the same.
        List<RunResult> Full(string method) => [.. Runs(method, 3).Select(r => WithChargeEnd(r, fullS))];
        Assert.Empty(Judge(Full("cable"), Full("pad")));

        // By hand: 7200 s + 9000 s kept − 7800 s is 2.3 h, − 6600 s 2.7 h.
        var longer = Runs("pad", 3, keepS: 9000).Select(r => WithChargeEnd(r, fullS)).ToList();
        string expected = fullS > 7200 ? "pad was logged for 2.3 h and cable for 0.8 h" : "pad was logged for 2.7 h and cable for 1.2 h";
        Assert.Contains(expected, Single("different-maintenance-length", Judge(Full("cable"), longer)).Text, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(0)]
    [InlineData(1)]
    [InlineData(2)]
    public void Fewer_than_three_runs_are_too_few(int count) => Single("too-few-runs", Judge(Runs("cable", 3), Runs("pad", count)));

    [Fact]
    public void Runs_that_were_set_up_differently_are_named_and_the_room_s_temperature_is_not()
    {
        static RunFactors At(double xMm, double roomC) =>
            new(new Dictionary<Factor, double> { [Factor.OffsetX] = xMm, [Factor.Temperature] = roomC }, null);
        var note =
            Single("different-settings", Judge(Runs("cable", 3), [.. Runs("pad", 3).Select((r, i) => r with { Factors = At(2 * i, 20) })]));
        Assert.Contains("differ in offset x", note.Text, StringComparison.Ordinal);
        Assert.Empty(Judge(Runs("cable", 3), [.. Runs("pad", 3).Select((r, i) => r with { Factors = At(2, 20 + i) })]));
    }

    [Fact]
    public void Energies_that_rise_from_run_to_run_are_named()
    {
        var pad = Enumerable.Range(0, 5).Select(i => Run($"pad-{i + 1}", new Setup { EnergyWh = 15 + (0.3 * i), Day = i })).ToList();
        var note = Single("run-drift", Judge(Runs("cable", 3), pad));
        Assert.Contains("rises", note.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void Energies_that_merely_scatter_are_not()
    {
        double[] energies = [15, 15.2, 14.9, 15.1, 15.0];
        var pad = energies.Select((e, i) => Run($"pad-{i + 1}", new Setup { EnergyWh = e, Day = i })).ToList();
        Assert.Empty(Judge(Runs("cable", 3), pad));
    }

    [Fact]
    public void A_longer_charge_feeds_the_device_for_longer()
    {
        var note = Single("background-load", Judge(Runs("cable", 3), Runs("pad", 3), padDurationS: 3600 * 3.5));
        Assert.Contains("1.5 h longer", note.Text, StringComparison.Ordinal);

        // By hand: (0.6 − 0.2) W · 1.5 h.
        Assert.Contains("0.6 Wh", note.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void A_discharge_within_the_charge_is_named() =>
        Single("discharge-in-between", Judge(Runs("cable", 3), [.. Runs("pad", 2), Run("pad-3", new Setup { BackW = -4 })]));

    [Fact]
    public void Rare_readings_are_named() => Single("coarse-sampling", Judge(Runs("cable", 3), Runs("pad", 3, intervalS: 90)));

    [Fact]
    public void Coarse_steps_are_named() => Single("coarse-steps", Judge(Runs("cable", 3), Runs("pad", 3, stepW: 2)));

    [Fact]
    public void A_run_left_out_stays_with_its_reason()
    {
        var note = Single("excluded-run", Judge(Runs("cable", 3), [.. Runs("pad", 3), Run("pad-4", new Setup
        {
            Excluded = "the device slipped off",
        })]));
        Assert.Contains("the device slipped off", note.Text, StringComparison.Ordinal);
        Assert.Equal(["pad-4"], note.Runs);
    }

    private static FairnessNote Single(string id, IReadOnlyList<FairnessNote> notes)
    {
        var note = Assert.Single(notes);
        Assert.Equal(id, note.Id);
        return note;
    }

    private static IReadOnlyList<FairnessNote> Judge(IReadOnlyList<RunResult> cable, IReadOnlyList<RunResult> pad,
        double padDurationS = 7200) =>
        FairnessNotes.Judge(
            [Method("cable", MethodKind.Wired, cable, 7200), Method("pad", MethodKind.Inductive, pad, padDurationS)]);

    private static MethodResult Method(string name, MethodKind kind, IReadOnlyList<RunResult> runs, double durationS) => new()
    {
        Name = name,
        Kind = kind,
        Runs = runs,
        Points = new Dictionary<MeasuringPoint, PointResult>
        {
            [MeasuringPoint.Usb] = new(
                Figure.None("-"), [], durationS, Figure.Of(Measured.Exact(0.6, "W")), Figure.Of(Measured.Exact(0.2, "W"))),
        },
        Yearly = new YearResult(Figure.None("-"), Figure.None("-"), []),
    };

    private static List<RunResult> Given(string method, double? temperatureC, string? adapter = null) =>
        [.. Runs(method, 3).Select(r => r with { TemperatureC = temperatureC, Adapter = adapter })];

    private static RunResult WithChargeEnd(RunResult run, double endS) => run with
    {
        Points = run.Points.ToDictionary(p => p.Key, p => p.Value with { Charge = p.Value.Charge with { EndS = endS } }),
    };

    private sealed record Setup
    {
        public double? StartCharge { get; init; } = 5;

        public double? EndCharge { get; init; } = 100;

        public double KeepS { get; init; } = 3600;

        public string Meter { get; init; } = "bench";

        public double Volt { get; init; } = 9;

        public double EnergyWh { get; init; } = 15;

        public int Day { get; init; }

        public double BackW { get; init; }

        public double IntervalS { get; init; } = 1;

        public Mode After { get; init; } = Mode.Maintenance;

        public double StepW { get; init; }

        public string? Excluded { get; init; }
    }

    private static List<RunResult> Runs(
        string method, int count, double? startCharge = 5, double? endCharge = 100, double keepS = 3600, string meter = "bench",
            double volt = 9, double intervalS = 1, double stepW = 0) =>
        [.. Enumerable.Range(1, count).Select(i => Run($"{method}-{i}", new Setup
        {
            StartCharge = startCharge,
            EndCharge = endCharge,
            KeepS = keepS,
            Meter = meter,
            Volt = volt,
            IntervalS = intervalS,
            StepW = stepW,
        }))];

    private static List<RunResult> InBlocks(string method, params string[] blocks) =>
        [.. Runs(method, blocks.Length).Zip(blocks, (run, block) => run with { Block = block })];

    private static RunResult Run(string id, Setup setup)
    {
        const double ChargeS = 7200;
        var envelope = new PowerEnvelope(4);
        for (double t = 0; t < ChargeS + setup.KeepS; t += 16)
        {
            double p = t > ChargeS ? 0.5 : t is > 2000 and < 2400 && setup.BackW < 0 ? setup.BackW : 7.5;
            envelope.AddReading(t, p);
            envelope.AddInterval(new PowerInterval(t, t + 16, p, p, MeanV: setup.Volt));
        }

        var charge = new ModeSpan(Mode.Charge, 0, ChargeS, 0, 1);
        var kept = new ModeSpan(setup.After, ChargeS, ChargeS + setup.KeepS, 1, 0);
        var energy = Measured.Exact(setup.EnergyWh, "Wh");
        var log = new LogMeasurement
        {
            Files = [id + ".csv"],
            Sha256 = [""],
            Layout = new LogLayout
            {
                Format = "text",
                Columns = [],
                TimeForm = "elapsed seconds",
                MedianIntervalS = setup.IntervalS,
                Samples = SampleKind.Instantaneous,
                SamplesWhy = "said",
                Resolution = setup.StepW > 0 ? new Dictionary<LogQuantity, double> { [LogQuantity.Power] = setup.StepW } : [],
            },
            PowerFrom = "power column",
            Rows = 1,
            RowsSkipped = 0,
            Faults = [],
            Energy = energy,
            Charge = Figure.None("-"),
            DurationS = ChargeS + setup.KeepS,
            MeanPower = Measured.Exact(1, "W"),
            PeakPowerW = 8,
            Modes = [new ModeResult(charge, energy, Figure.Of(Measured.Exact(7.5, "W"))), .. setup.KeepS > 0
                ? [new ModeResult(kept, Measured.Exact(0.5, "Wh"), Figure.Of(Measured.Exact(0.5, "W")))]
                : Array.Empty<ModeResult>()],
            Sessions = [],
            Doubts = [],
            Envelope = envelope,
        };
        return new RunResult
        {
            Id = id,
            Start = new DateTimeOffset(2026, 3, 1, 8, 0, 0, TimeSpan.Zero).AddDays(setup.Day),
            Excluded = setup.Excluded,
            StartChargePercent = setup.StartCharge,
            EndChargePercent = setup.EndCharge,
            Points = new Dictionary<MeasuringPoint, RunPointResult>
            {
                [MeasuringPoint.Usb] = new(log, setup.Meter, charge, energy, Figure.None("-")),
            },
        };
    }
}
