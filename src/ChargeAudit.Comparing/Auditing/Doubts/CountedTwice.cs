using ChargeAudit.Comparing.Methods;
using ChargeAudit.Comparing.Runs;
using ChargeAudit.Logs;
using ChargeAudit.Measuring;
using ChargeAudit.Metrology;
using static ChargeAudit.Comparing.Fairness.FairnessNotes;

namespace ChargeAudit.Comparing.Auditing.Doubts;

/// <summary>
/// A charge that counts twice: two runs, two points of one run, or two stand-by logs rest on the same bytes, by their hash, whatever the
/// files are called; or on the same readings, saved again in another form. Runs that take different stretches of one log do not count
/// twice.
/// </summary>
internal static class CountedTwice
{
    // Stretches of one log whose borders touch share a few rows.
    private const double OverlapShare = 0.1;

    public static IEnumerable<string> Of(IReadOnlyList<MethodResult> methods, IReadOnlyList<(string Method, LogMeasurement Log)> standby)
    {
        var uses = methods.SelectMany(m => m.Runs).Where(r => r.Excluded is null)
            .SelectMany(r => r.Points.OrderBy(p => p.Key).Select(p => new Use(r, p.Key, p.Value))).ToList();
        var told = new HashSet<(string, string)>();
        var alike = new LogsAlike([.. uses.Select(u => u.Point.Log)]);
        for (int i = 0; i < uses.Count; i++)
        {
            foreach (int j in alike.To(i).Where(j => j > i))
            {
                var (a, b) = (uses[i], uses[j]);
                if (Same(a.Point.Log, b.Point.Log) is { } how && Overlaps(a.Point, b.Point) && told.Add((a.Run.Id, b.Run.Id)))
                {
                    string who = a.Run.Id == b.Run.Id
                        ? $"{a.Run.Id} {At(a.At)} and {At(b.At)}"
                        : $"{a.Run.Id} and {b.Run.Id}";
                    yield return $"{Names(a.Point.Log, b.Point.Log)} {how}, and {who} both rest on it: one charge counts twice.";
                }
            }
        }

        foreach (var log in uses.Select(u => u.Point.Log).Concat(standby.Select(s => s.Log)).DistinctBy(l => string.Join('\n', l.Files)))
        {
            if (log.Sha256.Distinct(StringComparer.Ordinal).Count() < log.Sha256.Count)
            {
                yield return $"{string.Join(" + ", log.Files)}: two of these files hold the same bytes, so that their time counts twice.";
            }
        }

        var waitingAlike = new LogsAlike([.. standby.Select(w => w.Log)]);
        for (int i = 0; i < standby.Count; i++)
        {
            int twin = waitingAlike.To(i).TakeWhile(j => j < i)
                .FirstOrDefault(j => standby[j].Method == standby[i].Method && Same(standby[j].Log, standby[i].Log) is not null, -1);
            if (twin >= 0)
            {
                yield return $"{Names(standby[twin].Log, standby[i].Log)} {Same(standby[twin].Log, standby[i].Log)}, and the waiting of "
                    + $"{standby[i].Method} rests on it twice.";
            }
        }
    }

    private static string? Same(LogMeasurement a, LogMeasurement b)
    {
        if (a.Sha256.SequenceEqual(b.Sha256, StringComparer.Ordinal))
        {
            return a.Files.SequenceEqual(b.Files, StringComparer.Ordinal) ? "is one log" : "hold the same bytes under two names";
        }

        // Noise makes no two charges alike to the last bit.
        bool readings = a.Rows == b.Rows && a.Rows > 100 && a.DurationS == b.DurationS && a.Energy.Value == b.Energy.Value
            && a.PeakPowerW == b.PeakPowerW && a.Energy.Value != 0
            && a.Layout.Start == b.Layout.Start;
        return readings ? "hold the same readings" : null;
    }

    private static bool Overlaps(RunPointResult a, RunPointResult b)
    {
        double shared = Math.Min(a.Charge.EndS, b.Charge.EndS) - Math.Max(a.Charge.StartS, b.Charge.StartS);
        return shared > OverlapShare * Math.Min(a.Charge.DurationS, b.Charge.DurationS);
    }

    private static string Names(LogMeasurement a, LogMeasurement b)
    {
        string first = string.Join(" + ", a.Files);
        string second = string.Join(" + ", b.Files);
        return first == second ? first : InvariantText.Of($"{first} and {second}");
    }

    // Of thousands of logs only those are compared that may be the same: all pairs would be millions.
    private sealed class LogsAlike(IReadOnlyList<LogMeasurement> logs)
    {
        private readonly ILookup<string, int> _byBytes = Enumerable.Range(0, logs.Count).ToLookup(i => BytesOf(logs[i]));
        private readonly ILookup<(long, double, double, double), int> _byReadings =
            Enumerable.Range(0, logs.Count).ToLookup(i => ReadingsOf(logs[i]));

        public IEnumerable<int> To(int log) => _byBytes[BytesOf(logs[log])].Union(_byReadings[ReadingsOf(logs[log])]).Order();

        private static string BytesOf(LogMeasurement log) => string.Join('\n', log.Sha256);

        private static (long Rows, double DurationS, double EnergyWh, double PeakW) ReadingsOf(LogMeasurement log) =>
            (log.Rows, log.DurationS, log.Energy.Value, log.PeakPowerW);
    }

    private sealed record Use(RunResult Run, MeasuringPoint At, RunPointResult Point);
}
