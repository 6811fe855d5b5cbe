using System.Globalization;
using ChargeAudit.LogMaker.OddDays;
using ChargeAudit.Metrology;
using ChargeAudit.Tests.Coverage;

namespace ChargeAudit.Benchmarks.Coverage;

/// <summary><c>odd-days [DIR]</c>: what is made of odd days, as a table; their files stay in DIR where it is given.</summary>
internal static class OddDaysCommand
{
    public static int Run(string[] arguments, TextWriter output)
    {
        string? kept = arguments.FirstOrDefault();
        string folder = kept
            ?? Path.Combine(Path.GetTempPath(), "chargeaudit-odd-days-" + Environment.ProcessId.ToString(CultureInfo.InvariantCulture));
        List<OddDayVerdict> verdicts = [
            .. OddDayCatalogue.All.Select((day, i) =>
            AuditOfOddDay.Of(day, Path.Combine(folder, (i + 1).ToString("00", CultureInfo.InvariantCulture))))];
        if (kept is null)
        {
            Directory.Delete(folder, recursive: true);
        }

        output.Write(OddDayVerdict.ToMarkdown(verdicts));
        output.WriteLine();
        output.WriteLine(
            InvariantText.Of(
                $"{verdicts.Count} days: {verdicts.Count(v => v.Error < 0.01)} within 1 %, "
            + $"{verdicts.Count(v => v.Error >= 0.01 && v.Passes)} further out with their trouble said, "
            + $"{verdicts.Count(v => !v.Passes)} wrong."));
        return verdicts.All(v => v.Passes) ? 0 : 1;
    }
}
