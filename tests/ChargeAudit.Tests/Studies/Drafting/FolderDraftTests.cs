using System.Globalization;
using System.Text;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Studies.Drafting;

namespace ChargeAudit.Tests.Studies.Drafting;

/// <summary>Drafts of real files.</summary>
public sealed class FolderDraftTests : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("chargeaudit-draft-").FullName;

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Fact]
    public void What_is_no_log_is_named_with_its_reason()
    {
        Write("cable.csv", Log(2, 0, 3600));
        Write("pad/1.csv", Log(3, 0, 3600));
        Write("notes.csv", "bought a new pad\nand a cable\n");
        Write("empty.csv", "");
        Write("photo.jpg", "x");
        Write("scenario.toml", "title = \"x\"\n");
        Write("pad/deep/2.csv", Log(3, 0, 3600));
        Write("old/report.html", "");
        Write("old/results.json", "");
        Write(".hidden.csv", "");
        var draft = Draft();
        Assert.Equal(["cable.csv", "pad/1.csv"], draft.Runs.SelectMany(r => r.Logs.Values).SelectMany(l => l.Files)
            .Order(StringComparer.Ordinal));
        Assert.Equal(["empty.csv", "notes.csv", "old/", "pad/deep/", "photo.jpg", "scenario.toml"], draft.PassedOver.Select(p => p.File));
        Assert.All(draft.PassedOver, p => Assert.True(p.Why.Length > 10 && !p.Why.Contains(_folder, StringComparison.Ordinal), p.Why));
    }

    [Fact]
    public void Files_that_follow_one_another_are_one_log()
    {
        Write("cable-a.csv", Log(2, 0, 1500));
        Write("cable-b.csv", Log(2, 1500, 3600));
        Write("pad.csv", Log(3, 90_000, 93_600));
        var run = Assert.Single(Draft().Runs, r => r.Method == "cable");
        Assert.Equal(["cable-a.csv", "cable-b.csv"], run.Logs.Values.Single().Files);
    }

    [Fact]
    public void A_date_that_can_be_read_two_ways_is_tried_and_asked()
    {
        Write("cable.csv", Log(2, 0, 3600).Replace("2031-05-07T", "05/07/2031 ", StringComparison.Ordinal));
        Write("pad.csv", Log(3, 90_000, 93_600));
        var draft = Draft();
        Assert.Equal(2, draft.Runs.Count);
        Assert.Contains(draft.Questions, q => q.Contains("day or month", StringComparison.Ordinal));
    }

    [Fact]
    public void Pulses_are_seen_in_the_log_itself()
    {
        Write("a.csv", Log(3, 0, 3600, t => t % 10 < 2 ? 0.4 : 0.05));
        Write("b.csv", Log(3.05, 90_000, 93_600));
        Write("c.csv", Log(3.02, 180_000, 183_600));
        var draft = Draft();
        Assert.Equal("a.csv", Assert.Single(draft.Runs, r => r.Method == "pad").Logs.Values.Single().Files[0]);
        Assert.Contains(draft.Guesses, g => g.Contains("short pulses", StringComparison.Ordinal));
    }

    [Fact]
    public void A_folder_without_a_log_is_refused_with_the_reasons()
    {
        Write("notes.csv", "nothing\n");
        var refused = Assert.Throws<InputException>(() => Draft());
        Assert.Equal(InputProblem.Unusable, refused.Problem);
        Assert.Contains("notes.csv", refused.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_folder_that_is_not_there_and_a_file_are_refused()
    {
        Write("a.csv", "");
        Assert.Equal(InputProblem.Missing, Assert.Throws<InputException>(() => Draft("none")).Problem);
        Assert.Equal(InputProblem.Missing, Assert.Throws<InputException>(() => Draft("a.csv")).Problem);
    }

    [Fact]
    public void Too_many_files_are_refused_before_any_is_read()
    {
        for (int i = 0; i <= FolderFiles.MostLogs; i++)
        {
            Write($"{i}.csv", "");
        }

        Assert.Contains("401 files", Assert.Throws<InputException>(() => Draft()).Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Study_files_are_told_from_other_settings_and_a_damaged_one_is_still_one()
    {
        Write("a.toml", "title = \"x\"\n[methods.cable]\nkind = \"wired\"\n[[runs]]\nmethod = \"cable\"\nlogs = { usb = \"a.csv\" }\n");
        Write("scenario.toml", "[[runs]]\nmethod = \"cable\"\n");
        Write("broken.toml", "= =");
        Assert.Equal(["a.toml"], FolderFiles.Find(_folder).Studies);
        Write("study.toml", "= =");
        Assert.Equal(["a.toml", "study.toml"], FolderFiles.Find(_folder).Studies);
    }

    private StudyDraft Draft(string name = "") =>
        Drafter.Of(Path.Combine(_folder, name), cancellation: TestContext.Current.CancellationToken);

    private void Write(string name, string text)
    {
        string path = Path.Combine(_folder, name);
        Directory.CreateDirectory(Path.GetDirectoryName(path)!);
        File.WriteAllText(path, text);
    }

    // Five minutes of waiting, a charge with a taper, and the full device.
    private static string Log(double plateauW, int fromS, int toS, Func<int, double>? waitingW = null)
    {
        var text = new StringBuilder("Time,Voltage (V),Current (A)\n");
        var start = new DateTimeOffset(2031, 5, 7, 8, 0, 0, TimeSpan.Zero);
        int origin = fromS - (fromS % 90_000);
        for (int t = fromS; t < toS; t++)
        {
            int s = t - origin;
            double power = s < 300 ? waitingW?.Invoke(s) ?? 0.001 : s < 2000 ? plateauW : s < 3000
                ? plateauW * Math.Exp(-(s - 2000) / 500.0)
                : 0.02;
            text.Append(CultureInfo.InvariantCulture, $"{start.AddSeconds(t):yyyy-MM-ddTHH:mm:ss},5.000,{power / 5:F5}\n");
        }

        return text.ToString();
    }
}
