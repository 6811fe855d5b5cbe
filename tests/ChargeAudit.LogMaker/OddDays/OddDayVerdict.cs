using System.Globalization;
using System.Text;

namespace ChargeAudit.LogMaker.OddDays;

/// <summary>What was made of an odd day.</summary>
/// <param name="Day">The day.</param>
/// <param name="EnergiesWh">Energy of each charge; empty where the log was refused.</param>
/// <param name="IntervalsHold">Whether each 95 % interval holds its truth; false where there is none.</param>
/// <param name="Said">Every doubt, fault, fairness note or refusal.</param>
public sealed record OddDayVerdict(OddDay Day, IReadOnlyList<double> EnergiesWh, IReadOnlyList<bool> IntervalsHold,
    IReadOnlyList<string> Said)
{
    private const double Allowed = 0.01;

    /// <summary>Greatest error of a charge's energy; infinite where one is missing. [1]</summary>
    public double Error => EnergiesWh.Count != Day.EnergiesWh.Count ? double.PositiveInfinity
        : EnergiesWh.Zip(Day.EnergiesWh, (found, truth) => Math.Abs((found / truth) - 1)).Max();

    /// <summary>The sentence that names the trouble; null where none does.</summary>
    public string? Doubt => Said.FirstOrDefault(s => Day.Trouble.Any(t => s.Contains(t, StringComparison.OrdinalIgnoreCase)));

    /// <summary>Right within a per cent, or its trouble is said.</summary>
    public bool Passes => Error < Allowed || Doubt is not null;

    /// <summary>The verdicts as a table in Markdown.</summary>
    public static string ToMarkdown(IEnumerable<OddDayVerdict> verdicts)
    {
        StringBuilder text = new("| day | true, Wh | found, Wh | error | interval holds | said |\n|---|---|---|---|---|---|\n");
        foreach (OddDayVerdict v in verdicts)
        {
            string error = double.IsFinite(v.Error) ? string.Create(CultureInfo.InvariantCulture, $"{100 * v.Error:F2} %") : "none found";
            string holds = v.IntervalsHold.Count == 0 ? "-" : v.IntervalsHold.All(h => h) ? "yes" : "no";
            text.Append(CultureInfo.InvariantCulture,
                $"| {v.Day.Name} | {Numbers(v.Day.EnergiesWh)} | {Numbers(v.EnergiesWh)} | {error}{(v.Passes ? "" : " **wrong**")} | "
                + $"{holds} | {v.Doubt?.Replace('|', '/')} |\n");
        }

        return text.ToString();
    }

    private static string Numbers(IEnumerable<double> values) =>
        string.Join(", ", values.Select(v => v.ToString("F3", CultureInfo.InvariantCulture)));
}
