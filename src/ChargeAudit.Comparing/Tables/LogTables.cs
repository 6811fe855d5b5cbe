using System.Globalization;
using ChargeAudit.Measuring;
using ChargeAudit.Measuring.Integration;
using ChargeAudit.Metrology;
using Microsoft.Data.Analysis;

namespace ChargeAudit.Comparing.Tables;

/// <summary>What was found in logs, as flat tables for notebooks and spreadsheets.</summary>
/// <remarks>
/// All begin with <c>file</c> (several that follow one another are joined by <c> + </c>), <c>point</c> and <c>meter</c>. Seconds count from
/// the log's first sample; <c>start_time</c> is ISO 8601, without an offset where the log tells no zone and empty where it holds no date.
/// A measured column <c>x</c> has <c>x_u</c> (standard uncertainty), <c>x_low</c> and <c>x_high</c> (95 % interval) beside it. What is not
/// known is empty.
/// </remarks>
public static class LogTables
{
    /// <summary>One row for each log: <c>sha256</c>, <c>start_time</c>, <c>duration_s</c>, <c>rows</c>, <c>rows_skipped</c>, <c>faults</c>
    /// (how many), measured <c>energy_wh</c>, <c>charge_ah</c> and <c>mean_power_w</c>, <c>peak_power_w</c>, <c>counter_energy_wh</c>,
    /// <c>temperature_c</c>, <c>doubts</c> (how many).</summary>
    /// <param name="logs">The logs.</param>
    public static DataFrame Results(IReadOnlyList<LogMeasurement> logs) => Start(logs, l => l)
        .Text("sha256", l => string.Join(" + ", l.Sha256))
        .Text("start_time", l => StartTime(l, 0))
        .Number("duration_s", l => l.DurationS)
        .Number("rows", l => l.Rows)
        .Number("rows_skipped", l => l.RowsSkipped)
        .Number("faults", l => l.Faults.Sum(f => f.Count))
        .Measured("energy_wh", l => l.Energy)
        .Measured("charge_ah", l => l.Charge.Value)
        .Measured("mean_power_w", l => l.MeanPower)
        .Number("peak_power_w", l => l.PeakPowerW)
        .Number("counter_energy_wh", l => l.CounterEnergyWh)
        .Number("temperature_c", l => l.MeanTemperatureC)
        .Number("doubts", l => l.Doubts.Count)
        .Table();

    /// <summary>One row for each session, a charge with the maintenance that follows it: <c>session</c> (counted from 1 in its log),
    /// <c>start_time</c>, <c>start_s</c>, <c>end_s</c> and <c>duration_s</c> of the charge, measured <c>energy_wh</c> of the charge,
    /// <c>maintenance_s</c>.</summary>
    /// <param name="logs">The logs.</param>
    public static DataFrame Sessions(IReadOnlyList<LogMeasurement> logs) =>
        Start([.. logs.SelectMany(l => l.Sessions.Select((s, i) => (Log: l, Session: s, Number: i + 1)))], r => r.Log)
        .Number("session", r => r.Number)
        .Text("start_time", r => StartTime(r.Log, r.Session.StartS))
        .Number("start_s", r => r.Session.StartS)
        .Number("end_s", r => r.Session.EndS)
        .Number("duration_s", r => r.Session.DurationS)
        .Measured("energy_wh", r => r.Session.Energy)
        .Number("maintenance_s", r => r.Session.MaintenanceS)
        .Table();

    /// <summary>One row for each stretch of one mode; the rows of a log tile it: <c>mode</c>, <c>start_time</c>, <c>start_s</c>,
    /// <c>end_s</c>, <c>duration_s</c>, measured <c>energy_wh</c> and <c>mean_power_w</c>, <c>mean_power_why_not</c>,
    /// <c>power_factor</c>.</summary>
    /// <param name="logs">The logs.</param>
    public static DataFrame Modes(IReadOnlyList<LogMeasurement> logs) =>
        Start([.. logs.SelectMany(l => l.Modes.Select(m => (Log: l, Mode: m)))], r => r.Log)
        .Text("mode", r => StableName.Of(r.Mode.Span.Mode))
        .Text("start_time", r => StartTime(r.Log, r.Mode.Span.StartS))
        .Number("start_s", r => r.Mode.Span.StartS)
        .Number("end_s", r => r.Mode.Span.EndS)
        .Number("duration_s", r => r.Mode.Span.DurationS)
        .Measured("energy_wh", r => r.Mode.Energy)
        .Measured("mean_power_w", r => r.Mode.MeanPower.Value)
        .Text("mean_power_why_not", r => r.Mode.MeanPower.WhyNot)
        .Number("power_factor", r => r.Mode.PowerFactor)
        .Table();

    /// <summary>Power over time, one row for each cell of the log's envelope in which anything happened: <c>start_s</c> and <c>end_s</c>
    /// of the cell, <c>covered_s</c> (how much of it the log covers), <c>bridged_s</c> (how much of that lies in bridged gaps),
    /// <c>readings</c>, <c>mean_power_w</c> (over the covered time), <c>min_power_w</c> and <c>max_power_w</c> (of the readings), and
    /// <c>energy_wh</c>. The energies are those of the readings; of a log with an energy counter they need not add up to its
    /// energy.</summary>
    /// <param name="logs">The logs.</param>
    public static DataFrame Envelope(IReadOnlyList<LogMeasurement> logs) =>
        Start([.. logs.SelectMany(l => Cells(l.Envelope).Select(i => (Log: l, Cell: i)))], r => r.Log)
        .Number("start_s", r => r.Log.Envelope.StartS(r.Cell))
        .Number("end_s", r => r.Log.Envelope.StartS(r.Cell + 1))
        .Number("covered_s", r => r.Log.Envelope[r.Cell].CoveredS.Value)
        .Number("bridged_s", r => r.Log.Envelope[r.Cell].BridgedS.Value)
        .Number("readings", r => r.Log.Envelope[r.Cell].Readings)
        .Number("mean_power_w", r => r.Log.Envelope[r.Cell].MeanPowerW)
        .Number("min_power_w", r => r.Log.Envelope[r.Cell].MinPowerW)
        .Number("max_power_w", r => r.Log.Envelope[r.Cell].MaxPowerW)
        .Number("energy_wh", r => r.Log.Envelope[r.Cell].EnergyJ.Value / 3600)
        .Table();

    /// <summary>When something in a log happened, as ISO 8601; null where the log holds no date.</summary>
    internal static string? StartTime(LogMeasurement log, double fromStartS)
    {
        if (log.Layout.Start is not { } start)
        {
            return null;
        }

        string format = log.Layout.StartIsLocal ? "yyyy-MM-ddTHH:mm:ss.fff" : "yyyy-MM-ddTHH:mm:ss.fffzzz";
        return start.AddSeconds(fromStartS).ToString(format, CultureInfo.InvariantCulture);
    }

    /// <summary>The files of a log in one field.</summary>
    internal static string FilesOf(LogMeasurement log) => string.Join(" + ", log.Files);

    private static TableColumns<TRow> Start<TRow>(IReadOnlyList<TRow> rows, Func<TRow, LogMeasurement> log) =>
        new TableColumns<TRow>(rows)
        .Text("file", r => FilesOf(log(r)))
        .Text("point", r => log(r).Point is { } point ? StableName.Of(point) : null)
        .Text("meter", r => log(r).Meter);

    private static IEnumerable<int> Cells(PowerEnvelope envelope) =>
        Enumerable.Range(0, envelope.Count).Where(i => envelope[i].Readings > 0 || envelope[i].CoveredS.Value > 0);
}
