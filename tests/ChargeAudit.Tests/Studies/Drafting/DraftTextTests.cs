using ChargeAudit.Logs;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Studies;
using ChargeAudit.Studies.Drafting;

namespace ChargeAudit.Tests.Studies.Drafting;

public sealed class DraftTextTests
{
    [Fact]
    public void The_text_is_a_study_that_says_what_the_draft_says()
    {
        var draft =
            Drafter.Decide("invented",
            [Invented.Wall("cable-1-wall.csv", 12), Invented.Usb("cable-1-usb.csv", 10, 4), Invented.Usb("pad/1.csv", 15, 90_000),
            Invented.Waiting("pad/waiting.csv", 0.3)], []);
        var study = Read(draft);
        Assert.Equal(draft.Reference, study.Reference);
        Assert.Equal(draft.Methods.Select(m => (m.Name, m.Kind)), study.Methods.Select(m => (m.Name, m.Kind)));
        Assert.Equal(draft.Runs.Select(r => string.Join(' ', r.Logs.SelectMany(l => l.Value.Files))),
            study.Runs.Select(r => string.Join(' ', r.Logs.SelectMany(l => l.Value.Files))));
        Assert.Equal("pad/waiting.csv", Assert.Single(study.Standby).Logs[MeasuringPoint.Wall].Files[0]);
        Assert.All(study.Runs.SelectMany(r => r.Logs), l => Assert.Equal(l.Key, study.Meters[l.Value.Meter!].Options.Point));
    }

    [Fact]
    public void Nothing_is_filled_in_that_nobody_said()
    {
        var study = Read(Drafter.Decide("invented", [Invented.Usb("cable.csv", 10), Invented.Usb("pad.csv", 15, 90_000)], []));
        Assert.Null(study.Tariff);
        Assert.Empty(study.Use.Given);
        Assert.Null(study.Device.BatteryWh);
        Assert.All(study.Meters.Values, m => Assert.Empty(m.Accuracy));
        Assert.All(study.Runs, r => Assert.Null(r.StartChargePercent));
    }

    [Fact]
    public void A_question_uncommented_but_not_answered_is_refused_and_not_read_as_an_answer()
    {
        string text = Text(Drafter.Decide("invented", [Invented.Usb("cable.csv", 10), Invented.Usb("pad.csv", 15, 90_000)], []));
        foreach (string line in text.Split('\n')
            .Where(l => l.StartsWith("# ", StringComparison.Ordinal) && l.Contains(" = ", StringComparison.Ordinal) && l.Contains('?')
            && !l.Contains("question", StringComparison.Ordinal) && !l.Contains("name", StringComparison.Ordinal)))
        {
            string table = line.Contains("currency", StringComparison.Ordinal) ? "\n[tariff]\n" : "\n";
            Assert.ThrowsAny<InputException>(() =>
                Use(StudyReader.Read("study.toml", text.Replace($"\n{line}\n", $"{table}{line[2..]}\n", StringComparison.Ordinal), "")));
        }

        static void Use(Study study)
        {
            _ = ChargeAudit.Comparing.Yearly.StudyYear.Of(study);
        }
    }

    [Fact]
    public void Runs_of_no_known_kind_stay_in_the_file_as_comments()
    {
        var draft =
            Drafter.Decide("invented",
            [Invented.Usb("cable.csv", 10), Invented.Usb("pad.csv", 15, 90_000), Invented.Usb("c.csv", 12.2, 180_000)], []);
        Assert.Equal(2, Read(draft).Runs.Count);
        Assert.Contains("# [[runs]]\n# method = \"?\"\n# logs = { usb = { file = \"c.csv\"", Text(draft), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("cable \"1\".csv")]
    [InlineData("cable\\1.csv")]
    [InlineData("cable\n[tariff]\nprice = 1.csv")]
    [InlineData("cable\u2028\u0001 é 漢.csv")]
    public void Any_name_is_written_so_that_it_reads_back_and_stays_a_name(string name)
    {
        var draft = Drafter.Decide(name, [Invented.Usb(name, 10), Invented.Usb("pad.csv", 15, 90_000)], [new PassedOver(name, name)]);
        var study = Read(draft);
        Assert.Equal(name, study.Title);
        Assert.Equal(name, study.Runs[0].Logs.Values.Single().Files[0]);
        Assert.Null(study.Tariff);
    }

    [Fact]
    public void A_guessed_order_of_dates_is_written_and_asked()
    {
        var draft =
            Drafter.Decide("invented",
            [Invented.Usb("cable.csv", 10) with { GuessedDateOrder = DateOrder.DayFirst }, Invented.Usb("pad.csv", 15, 90_000)], []);
        Assert.Contains("date-order = \"day-first\"", Text(draft), StringComparison.Ordinal);
        Assert.Contains(draft.Questions, q => q.Contains("day or month", StringComparison.Ordinal));
    }

    private static string Text(StudyDraft draft) => DraftText.Write(draft, "Then: have it audited", f => f);

    private static Study Read(StudyDraft draft) => StudyReader.Read("study.toml", Text(draft), "");
}
