using ChargeAudit.Checking.Documents;
using ChargeAudit.Logs.Layout;
using ChargeAudit.Measuring;
using ChargeAudit.Measuring.Segmentation;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.Reports.Json;

/// <summary>Logs in JSON: how they were understood, and what was found in them.</summary>
internal static class LogJson
{
    /// <summary>Why a log has no time of day.</summary>
    public const string ElapsedOnly = "the log holds elapsed time only";

    private const string ClockNotWorkedOut = "the uncertainty of the meter's clock is not worked out";

    /// <summary>Logs that summaries stood for; null where there are none.</summary>
    public static IReadOnlyList<FromSummaryDocument>? FromSummaries(IEnumerable<LogMeasurement> logs)
    {
        List<FromSummaryDocument> found = [.. logs.Where(l => l.From is not null).SelectMany(l =>
            l.Files.Zip(l.Sha256, (file, hash) => new FromSummaryDocument(file, hash, l.From!.Schema, l.From.ProgramVersion)))];
        return found.Count > 0 ? found : null;
    }

    /// <summary>Everything found in one log.</summary>
    public static LogDocument Log(LogMeasurement log)
    {
        var duration = Duration(log.DurationS);
        var peak = Measured.Unknown(log.PeakPowerW, "W", "the uncertainty of a single reading is not worked out");
        var counter = log.CounterEnergyWh is { } counted
            ? Figure.Of(Measured.Unknown(counted, "Wh", "the counter's own uncertainty is not stated"))
            : Figure.None("the log holds no energy counter");
        return new LogDocument
        {
            File = log.Files[0],
            Files = [.. log.Files.Zip(log.Sha256, (name, hash) => new LogFileDocument { Name = name, Sha256 = hash })],
            Point = log.Point is { } point ? StableName.Of(point) : null,
            PointReason = Known.Unless(log.Point, "where the meter sat is not stated"),
            Meter = log.Meter,
            MeterReason = Known.Unless(log.Meter, "no meter is named"),
            Rows = log.Rows,
            RowsSkipped = log.RowsSkipped,
            Format = log.Layout.Format,
            Dialect = Dialect(log.Layout),
            DialectReason = DialectReason(log.Layout),
            Columns = Columns(log.Layout),
            Time = Time(log.Layout),
            Sampling = Sampling(log.Layout),
            Resolution = Resolution(log.Layout),
            Notes = log.Layout.Notes,
            PowerFrom = log.PowerFrom,
            Faults = Faults(log.Faults),
            Energy = log.Energy.Json(),
            EnergyReason = log.Energy.Why(),
            Charge = log.Charge.Json(),
            ChargeReason = log.Charge.Why(),
            Duration = duration.Json(),
            DurationReason = duration.Why(),
            MeanPower = log.MeanPower.Json(),
            MeanPowerReason = log.MeanPower.Why(),
            PeakPower = peak.Json(),
            PeakPowerReason = peak.Why(),
            CounterEnergy = counter.Json(),
            CounterEnergyReason = counter.Why(),
            Sessions = [.. log.Sessions.Select(s => Session(log.Layout, s))],
            Modes = [.. log.Modes.Select(m => Mode(log, m))],
            Doubts = [.. log.Doubts.Select(d => d.Text)],
            DoubtGravities = [.. log.Doubts.Select(d => StableName.Of(d.Gravity))],
        };
    }

    /// <summary>A log that was looked at only.</summary>
    public static InspectedLogDocument Inspected(InspectedLog log)
    {
        var duration = Duration(log.DurationS);
        return new(
            log.File,
            log.Outcome.Sha256,
            log.Outcome.Bytes,
            log.Outcome.Rows,
            log.Outcome.RowsSkipped,
            duration.Json(),
            duration.Why(),
            log.Layout.Format,
            Dialect(log.Layout),
            DialectReason(log.Layout),
            Columns(log.Layout),
            Time(log.Layout),
            Sampling(log.Layout),
            Resolution(log.Layout),
            log.Layout.Notes,
            Faults(log.Outcome.Faults));
    }

    /// <summary>One kind of fault.</summary>
    public static FaultDocument Fault(Fault fault)
    {
        bool hasLine = fault.FirstLine > 0;
        return new(
            null,
            StableName.Of(fault.Kind),
            hasLine ? fault.FirstLine : null,
            hasLine ? null : "the fault belongs to the log as a whole",
            hasLine ? fault.LastLine : null,
            fault.Count,
            fault.Detail);
    }

    /// <summary>Start and end in seconds from the log's first sample, and the start's absolute time where known.</summary>
    public static SpanDocument Span(LogLayout layout, double startS, double endS) => new()
    {
        Start = Known.Finite(startS),
        End = Known.Finite(endS),
        StartTime = layout.Start?.AddSeconds(startS),
        StartTimeReason = Known.Unless(layout.Start, ElapsedOnly),
    };

    private static IReadOnlyList<FaultDocument> Faults(IReadOnlyList<Fault> faults) => [.. faults.Select(Fault)];

    private static Measured Duration(double seconds) => Measured.Unknown(seconds, "s", ClockNotWorkedOut);

    private static SessionDocument Session(LogLayout layout, SessionResult s)
    {
        var span = Span(layout, s.StartS, s.EndS);
        var (charge, maintenance) = (Duration(s.DurationS), Duration(s.MaintenanceS));
        return new(
            span.Start,
            span.End,
            span.StartTime,
            span.StartTimeReason,
            s.Energy.Json(),
            s.Energy.Why(),
            charge.Json(),
            charge.Why(),
            maintenance.Json(),
            maintenance.Why());
    }

    private static ModeDocument Mode(LogMeasurement log, ModeResult m)
    {
        var span = Span(log.Layout, m.Span.StartS, m.Span.EndS);
        var duration = Duration(m.Span.DurationS);
        bool Within(ModeDetail d) => 0.5 * (d.StartS + d.EndS) is var middle && middle >= m.Span.StartS && middle < m.Span.EndS;
        return new(
            StableName.Of(m.Span.Mode),
            span.Start,
            span.End,
            span.StartTime,
            span.StartTimeReason,
            Known.Finite(m.Span.StartUncertaintyS),
            Known.Finite(m.Span.EndUncertaintyS),
            m.Energy.Json(),
            m.Energy.Why(),
            duration.Json(),
            duration.Why(),
            m.MeanPower.Json(),
            m.MeanPower.Why(),
            m.CorrectionWh,
            m.PowerFactor,
            [.. log.Details.Where(Within).Select(ChainJson.Detail)]);
    }

    private static DialectDocument? Dialect(LogLayout layout) => layout.Dialect is not { } dialect ? null : new(
        dialect.Encoding,
        dialect.Separator.ToString(),
        dialect.DecimalSeparator.ToString(),
        dialect.HeaderLine,
        Known.Unless(dialect.HeaderLine, "the log has no header"),
        dialect.FirstDataLine);

    private static string? DialectReason(LogLayout layout) => Known.Unless(layout.Dialect, "the format is not delimited text");

    private static IReadOnlyList<ColumnDocument> Columns(LogLayout layout) =>
    [
        .. layout.Columns.Select(c => new ColumnDocument(
            c.Index + 1, c.Header, StableName.Of(c.Quantity), c.Unit, Known.Finite(c.Factor), c.Offset == 0 ? null : c.Offset, c.Why)),
    ];

    private static TimeDocument Time(LogLayout layout) =>
        new(layout.TimeForm, layout.Start, Known.Unless(layout.Start, ElapsedOnly), layout.StartIsLocal);

    private static SamplingDocument Sampling(LogLayout layout) => new()
    {
        MedianInterval = Known.Finite(layout.MedianIntervalS),
        Kind = StableName.Of(layout.Samples),
        Why = layout.SamplesWhy,
        GapThreshold = Known.Finite(layout.GapThresholdS),
    };

    private static Dictionary<string, double?> Resolution(LogLayout layout) =>
        layout.Resolution.OrderBy(r => r.Key).ToDictionary(r => StableName.Of(r.Key), r => Known.Finite(r.Value));
}
