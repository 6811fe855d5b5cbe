using ChargeAudit.Logs;
using ChargeAudit.Logs.Layout;
using ChargeAudit.Logs.Reading;
using ChargeAudit.Measuring;
using ChargeAudit.Measuring.Summaries;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Studies;

namespace ChargeAudit.Comparing.Auditing;

/// <summary>All logs of a study that one meter wrote, as a first look understands them.</summary>
/// <param name="study">The study.</param>
/// <param name="summaries">Summaries of its logs; null: none.</param>
internal sealed class MeterLogs(Study study, SummaryFolder? summaries)
{
    private readonly Dictionary<string, IReadOnlyList<LogLayout>> _known = new(StringComparer.Ordinal);

    /// <summary>The logs of a meter; one that cannot be read is left out here, and reported when its turn comes.</summary>
    /// <param name="meter">Its name in the study.</param>
    public IReadOnlyList<LogLayout> Of(string meter)
    {
        if (_known.TryGetValue(meter, out var known))
        {
            return known;
        }

        var layouts = new List<LogLayout>();
        var logs = study.Runs.SelectMany(r => r.Logs).Concat(study.Standby.SelectMany(s => s.Logs)).Where(l => l.Value.Meter == meter);
        foreach (var (point, log) in logs.DistinctBy(l => string.Join('\n', l.Value.Files)))
        {
            if (Look(log, point, study.Meters[meter]) is { } layout)
            {
                layouts.Add(layout);
            }
        }

        return _known[meter] = layouts;
    }

    private LogLayout? Look(LogReference log, MeasuringPoint point, Meter meter)
    {
        try
        {
            string[] paths = [.. log.Files.Select(f => Path.Combine(study.Folder, f))];
            var request = new MeasureRequest { Paths = paths, Names = log.Names ?? log.Files, Meter = meter, Point = point };
            if (paths is [var only] && SummaryFile.IsSummary(only))
            {
                return SummaryFile.Read(only).Own;
            }

            if (summaries?.LayoutOf(request) is { } known)
            {
                return known;
            }

            using var file = LogFile.Open(paths, meter.Options with { Point = point });
            return file.Layout;
        }
        catch (Exception e) when (e is InputException or IOException)
        {
            return null;
        }
    }
}
