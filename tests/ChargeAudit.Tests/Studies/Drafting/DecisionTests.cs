using ChargeAudit.Logs;
using ChargeAudit.Studies.Drafting;

namespace ChargeAudit.Tests.Studies.Drafting;

public sealed class DecisionTests
{
    [Fact]
    public void Logs_of_two_points_that_overlap_and_share_their_steps_are_one_run_whatever_their_names()
    {
        var draft = Draft(Invented.Wall("x.csv", 12), Invented.Usb("cable.csv", 10, 4), Invented.Usb("pad.csv", 15, 90_000, 3),
            Invented.Wall("y.csv", 18, 89_990, 3));
        Assert.Equal(2, draft.Runs.Count);
        Assert.Equal(["x.csv", "cable.csv"], Files(draft, "cable"));
        Assert.Equal(["y.csv", "pad.csv"], Files(draft, "pad"));
        Assert.Contains(draft.Guesses, g => g.Contains("overlap in time", StringComparison.Ordinal)
            && g.Contains("power steps agree", StringComparison.Ordinal));
    }

    [Fact]
    public void Logs_of_different_days_are_two_runs_even_if_their_names_are_one()
    {
        var draft = Draft(Invented.Wall("cable-1-wall.csv", 12), Invented.Usb("cable-1-usb.csv", 10, 400_000, 3),
            Invented.Usb("pad-1-usb.csv", 15, 90_000));
        Assert.Equal(3, draft.Runs.Count);
    }

    [Fact]
    public void Clocks_a_whole_number_of_hours_apart_are_paired_by_their_steps_and_asked()
    {
        var draft = Draft(Invented.Wall("a.csv", 12, 7200), Invented.Usb("cable.csv", 10), Invented.Usb("pad.csv", 15, 400_000, 3));
        Assert.Equal(["a.csv", "cable.csv"], Files(draft, "cable"));
        Assert.Contains(draft.Questions, q => q.Contains("time zones", StringComparison.Ordinal));
    }

    [Fact]
    public void Logs_without_a_clock_are_paired_by_their_names()
    {
        var draft = Draft(
            Invented.Wall("cable-1-wall.csv", 12) with { Start = null }, Invented.Usb("cable-1-usb.csv", 10) with { Start = null },
            Invented.Usb("pad-1-usb.csv", 15, 0, 3) with { Start = null }, Invented.Wall("pad-2-wall.csv", 18, 0, 3) with { Start = null });
        Assert.Equal(["cable-1-wall.csv", "cable-1-usb.csv"], Files(draft, "cable"));
        Assert.Equal(2, draft.Runs.Count(r => r.Method == "pad"));
    }

    [Fact]
    public void A_cable_and_a_pad_that_ran_at_the_same_time_are_no_run()
    {
        var draft = Draft(Invented.Wall("pad.csv", 18), Invented.Usb("cable.csv", 10));
        Assert.All(draft.Runs, r => Assert.Single(r.Logs));
    }

    [Fact]
    public void Without_names_the_greater_energies_are_the_pads()
    {
        var draft = Draft(Invented.Usb("a.csv", 10), Invented.Usb("b.csv", 15, 90_000), Invented.Usb("c.csv", 10.1, 180_000),
            Invented.Usb("d.csv", 15.3, 270_000));
        Assert.Equal(["a.csv", "c.csv"], Files(draft, "cable"));
        Assert.Equal(["b.csv", "d.csv"], Files(draft, "pad"));
        Assert.All(draft.Runs, r =>
            Assert.Contains(r.Remarks, m => m.Kind == RemarkKind.Guess && m.Text.Contains("pad uses more", StringComparison.Ordinal)));
        Assert.True(draft.CanBeAudited);
    }

    [Theory]
    [InlineData(10, 10.2, 10.4, 10.6)]
    [InlineData(10, 12, 14, 16)]
    public void Energies_that_fall_into_no_two_groups_decide_nothing(double a, double b, double c, double d)
    {
        var draft = Draft(Invented.Usb("a.csv", a), Invented.Usb("b.csv", b, 90_000), Invented.Usb("c.csv", c, 180_000),
            Invented.Usb("d.csv", d, 270_000));
        Assert.False(draft.CanBeAudited);
        Assert.All(draft.Runs, r => Assert.Null(r.Method));
        Assert.Equal(4, draft.Questions.Count(q => q.StartsWith("Nothing tells whether", StringComparison.Ordinal)));
    }

    [Fact]
    public void A_named_charge_that_contradicts_the_energies_leaves_the_others_open()
    {
        var draft = Draft(Invented.Usb("cable.csv", 15), Invented.Usb("pad.csv", 10, 90_000), Invented.Usb("c.csv", 10.1, 180_000));
        Assert.Null(Assert.Single(draft.Runs, r => r.Logs.Values.Single().Files[0] == "c.csv").Method);
    }

    [Fact]
    public void A_log_that_shows_pulses_while_waiting_is_inductive()
    {
        var draft =
            Draft(Invented.Usb("a.csv", 10) with { Waiting = new WaitingFacts(0.2, 1.1, 600) }, Invented.Usb("cable.csv", 10.1, 90_000));
        Assert.Equal(["a.csv"], Files(draft, "pad"));
        Assert.Contains(draft.Guesses, g => g.Contains("short pulses", StringComparison.Ordinal));
    }

    [Fact]
    public void A_log_that_draws_at_the_adapters_output_with_no_device_is_inductive()
    {
        var draft =
            Draft(Invented.Usb("a.csv", 10) with { Waiting = new WaitingFacts(0.12, 0, 600) }, Invented.Usb("cable.csv", 10.1, 90_000));
        Assert.Equal(["a.csv"], Files(draft, "pad"));
    }

    [Fact]
    public void Waiting_logs_without_names_go_to_the_kind_whose_waiting_they_resemble()
    {
        var draft = Draft(
            Invented.Wall("cable.csv", 12) with { Waiting = new WaitingFacts(0.05, 0, 600) }, Invented.Wall("pad.csv", 18, 90_000) with
            {
                Waiting = new WaitingFacts(0.30, 0, 600),
            },
            Invented.Waiting("a.csv", 0.31), Invented.Waiting("b.csv", 0.048));
        Assert.Equal("a.csv", Assert.Single(draft.Standby, s => s.Method == "pad").Logs[MeasuringPoint.Wall].Files[0]);
        Assert.Equal("b.csv", Assert.Single(draft.Standby, s => s.Method == "cable").Logs[MeasuringPoint.Wall].Files[0]);
        Assert.Equal(2, draft.Questions.Count(q => q.Contains("really no device", StringComparison.Ordinal)));
    }

    [Fact]
    public void Several_charges_in_one_log_are_runs_of_their_own()
    {
        var charges = new[] { new ChargeFacts(1, 0, 1000, 10, 0.2), new ChargeFacts(3, 1500, 3000, 10.2, 0.2) };
        var draft = Draft(Invented.Usb("cable.csv", 10) with { Charges = charges }, Invented.Usb("pad.csv", 15, 90_000));
        Assert.Equal([1, 3], draft.Runs.Where(r => r.Method == "cable").Select(r => r.Session ?? 0));
        Assert.Null(draft.Runs.Single(r => r.Method == "pad").Session);
    }

    [Fact]
    public void One_log_of_one_meter_may_hold_charges_of_both_kinds()
    {
        var charges = Enumerable.Range(1, 4).Select(i => new ChargeFacts(i, 800 * i, (800 * i) + 700, i % 2 == 0 ? 15.1 : 10, 0.2))
            .ToList();
        var draft = Draft(Invented.Wall("week.csv", 10) with { Charges = charges });
        Assert.Equal([1, 3], draft.Runs.Where(r => r.Method == "cable").Select(r => r.Session ?? 0));
        Assert.Equal([2, 4], draft.Runs.Where(r => r.Method == "pad").Select(r => r.Session ?? 0));
    }

    [Fact]
    public void Logs_with_different_numbers_of_charges_are_no_pair()
    {
        var charges = new[] { new ChargeFacts(1, 0, 1000, 10, 0.2), new ChargeFacts(2, 1500, 3000, 10.2, 0.2) };
        var draft = Draft(Invented.Wall("cable-1-wall.csv", 12), Invented.Usb("cable-1-usb.csv", 10) with { Charges = charges });
        Assert.All(draft.Runs, r => Assert.Single(r.Logs));
    }

    [Fact]
    public void Each_way_of_writing_at_a_point_is_a_meter_of_its_own()
    {
        var draft = Draft(Invented.Usb("cable.csv", 10), Invented.Usb("pad.csv", 15, 90_000) with { Dialect = "other" },
            Invented.Wall("pad-2.csv", 18, 180_000));
        Assert.Equal(["wall-meter", "usb-meter", "usb-meter-2"], draft.Meters.Select(m => m.Name));
        Assert.Equal(["power"], draft.Meters[0].Quantities);
        Assert.Equal(["voltage", "current"], draft.Meters[1].Quantities);
    }

    [Fact]
    public void Two_meters_in_one_line_are_told_apart_by_their_energies()
    {
        var draft = Draft(Invented.Usb("a.csv", 10), Invented.Usb("b.csv", 9.2, 3), Invented.Usb("pad.csv", 15, 90_000),
            Invented.Usb("cable.csv", 10.1, 190_000));
        var run = Assert.Single(draft.Runs, r => r.Logs.Count == 2);
        Assert.Equal(("a.csv", "b.csv"), (run.Logs[MeasuringPoint.Usb].Files[0], run.Logs[MeasuringPoint.Device].Files[0]));
    }

    [Fact]
    public void Different_folders_of_one_kind_are_different_methods_and_asked()
    {
        var draft = Draft(Invented.Usb("cable/1.csv", 10), Invented.Usb("white pad/1.csv", 15, 90_000),
            Invented.Usb("black pad/1.csv", 16, 180_000), Invented.Waiting("pad-waiting.csv", 0.3));
        Assert.Equal(["cable", "white-pad", "black-pad"], draft.Methods.Select(m => m.Name).Take(3));
        Assert.Contains(draft.Questions, q => q.Contains("different chargers", StringComparison.Ordinal));
    }

    [Fact]
    public void A_waiting_log_under_another_word_belongs_to_the_only_method_of_its_kind()
    {
        var draft =
            Draft(Invented.Usb("cable.csv", 10), Invented.Usb("pad.csv", 15, 90_000), Invented.Waiting("wireless-waiting.csv", 0.3));
        Assert.Equal("pad", Assert.Single(draft.Standby).Method);
    }

    [Fact]
    public void A_charge_under_a_waiting_name_is_a_run_and_asked()
    {
        var draft = Draft(Invented.Usb("cable-waiting.csv", 10), Invented.Usb("pad.csv", 15, 90_000));
        Assert.Equal(2, draft.Runs.Count);
        Assert.Contains(draft.Questions, q => q.Contains("\"waiting\"", StringComparison.Ordinal));
    }

    [Fact]
    public void A_missing_kind_is_asked_for()
    {
        var draft = Draft(Invented.Usb("pad.csv", 15));
        Assert.False(draft.CanBeAudited);
        Assert.Null(draft.Reference);
        Assert.Contains(draft.Questions, q => q.Contains("No charge by cable was found", StringComparison.Ordinal));
    }

    private static StudyDraft Draft(params LogFacts[] logs) => Drafter.Decide("invented", logs, []);

    private static List<string> Files(StudyDraft draft, string method) =>
        [.. draft.Runs.Where(r => r.Method == method).SelectMany(r => r.Logs.OrderBy(l => l.Key).Select(l => l.Value.Files[0]))];
}
