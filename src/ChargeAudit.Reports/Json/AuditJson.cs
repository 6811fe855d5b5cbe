using ChargeAudit.Checking.Documents;
using ChargeAudit.Comparing.Results;
using ChargeAudit.Comparing.Yearly;
using ChargeAudit.Measuring;
using ChargeAudit.Metrology;
using ChargeAudit.Studies;

namespace ChargeAudit.Reports.Json;

/// <summary>The answer of an audit in JSON.</summary>
internal static class AuditJson
{
    private const string NotGiven = "not given";
    private const string NoStudyFile = "there was no study file";

    public static AuditDocument Of(AuditResult result) => new()
    {
        Title = result.Study.Title,
        Reference = result.Study.Reference,
        Device = Device(result.Study.Device),
        Instruments = Instruments(result.Study.Meters.Values),
        Tariff = result.Study.Tariff is { } tariff ? Tariff(tariff) : null,
        TariffReason = Known.Unless(result.Study.Tariff, "the study gives no price"),
        Assumptions = result.Assumptions,
        Methods = [.. result.Methods.Select(MethodJson.Of)],
        Corrections = result.Corrections.Count > 0 ? [.. result.Corrections.Select(Correction)] : null,
        Stages = [.. result.Stages.Select(ChainJson.Stage)],
        Losses = [.. result.Losses.Select(ChainJson.Losses)],
        AdapterCurves = [.. result.AdapterCurves.Select(ChainJson.Curve)],
        NoAdapterCurve = result.NoAdapterCurve.Count > 0 ? result.NoAdapterCurve : null,
        Comparisons = [.. result.Comparisons.Select(ChainJson.Comparison)],
        YearDifferences = [.. result.Years.Select(YearJson.Difference)],
        Paybacks = [.. result.Paybacks.Select(YearJson.Paid)],
        Yardsticks = [.. result.Yardsticks.Select(PublishedJson.Yardsticks)],
        Procedure = result.Procedure is { } procedure ? PublishedJson.Procedure(procedure) : null,
        ProcedureReason = Known.Unless(result.Procedure, "none was asked for"),
        Placement = result.Placement is { } placement ? PlacementJson.Of(placement) : null,
        Fairness = [.. result.Fairness.Select(f => new FairnessDocument(f.Id, f.Text, f.Runs, StableName.Of(f.Gravity)))],
        Doubts = result.Doubts,
        Faults = [.. result.Logs.SelectMany(l => l.Faults.Select(f => LogJson.Fault(f) with { File = l.Files[0] }))],
        Logs = new MadeWhenAsked<LogMeasurement, LogDocument>(result.Logs, LogJson.Log),
        Provenance = Provenance(result),
    };

    private static List<InstrumentDocument>? Instruments(IEnumerable<Meter> meters)
    {
        List<InstrumentDocument> keyed = [.. meters.Where(m => m.Instrument is not null)
            .Select(m => new InstrumentDocument(m.Name, m.Instrument!))];
        return keyed.Count > 0 ? keyed : null;
    }

    private static CorrectionDocument Correction(CorrectionResult c) => new(
        c.Method, StudyWords.Of(c.Point), StableName.Of(c.Figure), Known.Finite(c.AsRead), Known.Finite(c.Correction), c.Unit, c.By);

    private static DeviceDocument Device(DeviceInfo device) => new()
    {
        Name = device.Name,
        NameReason = Known.Unless(device.Name, "the study names no device"),
        BatteryWh = Known.Finite(device.BatteryWh),
        BatteryWhReason = Known.Unless(device.BatteryWh, NotGiven),
        BatteryDischargeWh = Known.Finite(device.BatteryDischargeWh),
        BatteryDischargeWhReason = Known.Unless(device.BatteryDischargeWh, NotGiven),
        BatteryDischargeWithinWh = Known.Finite(device.BatteryDischargeWithinWh),
        BatteryDischargeWithinWhReason = Known.Unless(device.BatteryDischargeWithinWh, NotGiven),
    };

    private static TariffDocument Tariff(Tariff tariff) => new(
        tariff.Currency,
        Known.Finite(tariff.PricePerKwh),
        Known.Unless(tariff.PricePerKwh, "the price depends on the hour or on the household's consumption"),
        TariffText.Of(tariff));

    private static ProvenanceDocument Provenance(AuditResult result)
    {
        var from = result.Provenance;
        return new ProvenanceDocument
        {
            ProgramVersion = from.ProgramVersion,
            Study = from.StudyFile,
            StudyReason = Known.Unless(from.StudyFile, NoStudyFile),
            StudySha256 = from.StudySha256,
            StudySha256Reason = Known.Unless(from.StudySha256, NoStudyFile),
            Created = from.Created,
            CommandLine = from.CommandLine,
            CommandLineReason = Known.Unless(from.CommandLine, "no command made these results; a program called the library"),
            Drafted = from.Drafted ? true : null,
            PassedOver = from.Drafted ? DraftJson.PassedOver(from.PassedOver) : null,
            Logs = [.. result.Logs.SelectMany(l =>
                l.Files.Zip(l.Sha256, (file, hash) => new LogHashDocument { File = file, Sha256 = hash }))],
            FromSummaries = LogJson.FromSummaries(result.Logs),
        };
    }
}
