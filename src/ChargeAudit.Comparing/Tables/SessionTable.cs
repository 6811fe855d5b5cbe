using ChargeAudit.Comparing.Results;
using ChargeAudit.Comparing.Runs;
using ChargeAudit.Logs;
using ChargeAudit.Measuring;
using ChargeAudit.Measuring.Segmentation;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Uncertainty;
using Microsoft.Data.Analysis;

namespace ChargeAudit.Comparing.Tables;

/// <summary>The results as one flat table for notebooks and spreadsheets: one row for each run, measuring point and stretch of one
/// mode.</summary>
/// <remarks>
/// Columns: <c>method</c>, <c>kind</c>, <c>run</c> (empty for logs of a waiting charger), <c>excluded</c> (the reason; empty where the run
/// counts), <c>point</c>, <c>meter</c>, <c>file</c>, <c>mode</c>, <c>in_energy_per_charge</c> (whether the row is the charge that the
/// comparison rests on), <c>start_time</c> (ISO 8601; empty where the log holds no date), <c>start_s</c> and <c>end_s</c> (from the log's
/// first sample), <c>duration_s</c>, <c>energy_wh</c>, <c>mean_power_w</c>, each with its standard uncertainty (<c>_u</c>) and 95 %
/// interval (<c>_low</c>, <c>_high</c>), empty where not known; <c>mean_power_why_not</c> (why there is no mean power; empty where there is
/// one).
/// </remarks>
public static class SessionTable
{
    /// <summary>Makes the table; runs first, in the order of the study, then the logs that belong to no run.</summary>
    public static DataFrame Of(AuditResult result)
    {
        var rows = new List<Row>();
        var claimed = result.Methods.SelectMany(m => m.Runs).SelectMany(r => r.Points.Values).ToLookup(p => p.Log);
        foreach (var method in result.Methods)
        {
            foreach (var run in method.Runs)
            {
                foreach (var (point, seen) in run.Points.OrderBy(p => p.Key))
                {
                    var starts = claimed[seen.Log].Select(p => p.Charge.StartS).Order().ToList();
                    var head =
                        new Row(method.Name, StableName.Of(method.Kind), run.Id, run.Excluded, point, seen.Meter, seen.Log, null, false);
                    rows.AddRange(RowsOf(head, seen, starts, run.Excluded is null));
                }
            }
        }

        foreach (var log in result.Logs.Where(l => !claimed.Contains(l)))
        {
            string? name = result.Study.Standby.FirstOrDefault(s => s.Logs.Values.Any(l => l.Files.SequenceEqual(log.Files)))?.Method;
            string? kind = result.Methods.FirstOrDefault(m => m.Name == name) is { } method ? StableName.Of(method.Kind) : null;
            rows.AddRange(log.Modes.Select(m => new Row(name, kind, null, null, log.Point, log.Meter, log, m, false)));
        }

        return Table(rows);
    }

    private static IEnumerable<Row> RowsOf(Row head, RunPointResult seen, List<double> starts, bool counts)
    {
        // A log may hold several runs: what precedes the first charge goes with the first run, anything else with the charge before it.
        double from = seen.Charge.StartS == starts[0] ? double.NegativeInfinity : seen.Charge.StartS;
        double to = starts.FirstOrDefault(s => s > seen.Charge.StartS, double.PositiveInfinity);
        double hours = seen.Charge.DurationS / 3600;
        var power = hours > 0 ? Figure.Of(seen.Energy.In("W", 1 / hours)) : Figure.None("the charge has no length");
        var own = seen.Modes.FirstOrDefault(m => m.Span == seen.Charge);
        return seen.Modes
            .Where(m => m.Span.StartS >= from && m.Span.StartS < to && !IsPartOf(m.Span, seen.Charge))
            .Select(m => head with { Stretch = m })
            .Append(head with { Stretch = new ModeResult(seen.Charge, seen.Energy, own?.MeanPower ?? power), Counts = counts })
            .OrderBy(r => r.Stretch!.Span.StartS);
    }

    private static bool IsPartOf(ModeSpan span, ModeSpan charge)
    {
        double middle = 0.5 * (span.StartS + span.EndS);
        return span.Mode == charge.Mode && middle >= charge.StartS && middle <= charge.EndS;
    }

    private static DataFrame Table(List<Row> rows) => new TableColumns<Row>(rows)
        .Text("method", r => r.Method)
        .Text("kind", r => r.Kind)
        .Text("run", r => r.Run)
        .Text("excluded", r => r.Excluded)
        .Text("point", r => r.Point is { } point ? StableName.Of(point) : null)
        .Text("meter", r => r.Meter)
        .Text("file", r => LogTables.FilesOf(r.Log))
        .Text("mode", r => StableName.Of(r.Stretch!.Span.Mode))
        .Flag("in_energy_per_charge", r => r.Counts)
        .Text("start_time", r => LogTables.StartTime(r.Log, r.Stretch!.Span.StartS))
        .Number("start_s", r => r.Stretch!.Span.StartS)
        .Number("end_s", r => r.Stretch!.Span.EndS)
        .Number("duration_s", r => r.Stretch!.Span.DurationS)
        .Measured("energy_wh", r => r.Stretch!.Energy)
        .Measured("mean_power_w", r => r.Stretch!.MeanPower.Value)
        .Text("mean_power_why_not", r => r.Stretch!.MeanPower.WhyNot)
        .Table();

    private sealed record Row(
        string? Method, string? Kind, string? Run, string? Excluded, MeasuringPoint? Point, string? Meter, LogMeasurement Log,
            ModeResult? Stretch, bool Counts);
}
