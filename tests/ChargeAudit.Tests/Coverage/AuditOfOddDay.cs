using ChargeAudit.Comparing.Auditing;
using ChargeAudit.LogMaker.OddDays;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Studies;

namespace ChargeAudit.Tests.Coverage;

/// <summary>Audits the log of an odd day as the only one of a study.</summary>
public static class AuditOfOddDay
{
    private const ulong Seed = 20_310_507;

    /// <summary>Writes the files to a folder and audits them.</summary>
    public static OddDayVerdict Of(OddDay day, string folder)
    {
        Directory.CreateDirectory(folder);
        foreach ((string name, string text) in day.Files(Seed))
        {
            File.WriteAllText(Path.Combine(folder, name), text);
        }

        string file = Path.Combine(folder, "study.toml");
        try
        {
            var audit = Auditor.Run(StudyReader.Load(file), new AuditOptions
            {
                ProgramVersion = "",
                CommandLine = "",
                StudyFile = file,
                Clock = TimeProvider.System,
            });
            var energies = audit.Methods.SelectMany(m => m.Runs).Select(r => r.Points.Values.Single().Energy).ToList();
            return new OddDayVerdict(
                day,
                [.. energies.Select(e => e.Value)],
                [.. energies.Zip(day.EnergiesWh, (found, truth) => found.Interval() is { } i && i.Low <= truth && truth <= i.High)],
                [.. audit.Logs.SelectMany(l => l.Doubts).Select(d => d.Text), .. audit.Logs.SelectMany(l => l.Faults).Select(f => f.Detail),
                    .. audit.Fairness.Select(f => f.Text)]);
        }
        catch (InputException refused)
        {
            return new OddDayVerdict(day, [], [], ["refused: " + refused.Message.Replace(folder, "", StringComparison.Ordinal)]);
        }
    }
}
