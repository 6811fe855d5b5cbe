using System.Globalization;
using System.Text.Json;

namespace ChargeAudit.EndToEnd;

/// <summary>sessions.csv of the sample study against what its generator knows: every mode of every log.</summary>
public sealed class SessionsOfTheSampleStudyTests : IDisposable
{
    private readonly TemporaryFolder _folder = new();

    public void Dispose() => _folder.Dispose();

    [Fact]
    public void Every_mode_of_every_log_is_the_true_one_and_holds_its_true_power()
    {
        var truth = JsonDocument.Parse(File.ReadAllText(Path.Combine(Repository.SampleLogs, "truth.json"))).RootElement;
        var sessions = truth.GetProperty("runs").EnumerateArray().Concat(truth.GetProperty("standby").EnumerateArray()).ToList();
        var byFile = Rows().ToLookup(r => r["file"]);
        Assert.Equal(sessions.Sum(s => s.GetProperty("logs").GetArrayLength()), byFile.Count);
        foreach (var session in sessions)
        {
            foreach (var log in session.GetProperty("logs").EnumerateArray())
            {
                string file = log.GetProperty("file").GetString()!;
                string point = log.GetProperty("point").GetString()!;
                var rows = byFile[file].ToList();
                var modes = session.GetProperty("modes").EnumerateArray().ToList();
                Assert.Equal(modes.Select(m => m.GetProperty("mode").GetString()), rows.Select(r => r["mode"]));
                for (int i = 0; i < rows.Count; i++)
                {
                    Assert.True(i == 0 || rows[i]["start_s"] == rows[i - 1]["end_s"], $"{file}: the modes do not tile the log");
                    double length = modes[i].GetProperty("endS").GetDouble() - modes[i].GetProperty("startS").GetDouble();
                    Assert.True(Math.Abs(Number(rows[i], "duration_s") - length) < 12,
                        $"{file}: {rows[i]["mode"]} lasts {rows[i]["duration_s"]} s, in truth {length} s");
                    Holds(rows[i], file, point, session);
                }
            }
        }
    }

    private static void Holds(Dictionary<string, string> row, string file, string point, JsonElement session)
    {
        (string column, string figure) = row["mode"] switch
        {
            "charge" => ("energy_wh", "energyWh"),
            "maintenance" => ("mean_power_w", "maintenanceW"),
            _ => ("mean_power_w", "noLoadW"),
        };
        double real = session.GetProperty(figure).GetProperty(point).GetDouble();
        Assert.True(
            Number(row, $"{column}_low") <= real && real <= Number(row, $"{column}_high"),
            $"{file}, {row["mode"]}: {row[$"{column}_low"]} to {row[$"{column}_high"]} does not hold {real}");
        Assert.Empty(row["mean_power_why_not"]);
    }

    private IEnumerable<Dictionary<string, string>> Rows()
    {
        var run = Run.In(_folder.Path, "audit", _folder.SampleLogs(), "--out", "report", "--quiet");
        Assert.Equal((0, ""), (run.Status, run.Error));
        string[] lines = File.ReadAllLines(Path.Combine(_folder.Path, "report", "sessions.csv"));
        string[] header = lines[0].Split(',');
        return lines.Skip(1).Select(line => header.Zip(line.Split(',')).ToDictionary(p => p.First, p => p.Second));
    }

    private static double Number(Dictionary<string, string> row, string column) => double.Parse(row[column], CultureInfo.InvariantCulture);
}
