using ChargeAudit.Logs;
using ChargeAudit.Measuring.Segmentation;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Studies;

namespace ChargeAudit.Reports.Text;

/// <summary>Names for people.</summary>
public static class Words
{
    /// <summary>Where a meter sat: <c>at the wall</c>.</summary>
    public static string At(MeasuringPoint point) => PlainWords.At(point);

    /// <summary>The place itself: <c>wall</c>.</summary>
    public static string Place(MeasuringPoint point) => PlainWords.Place(point);

    /// <summary>What sits between a point and the next one measured.</summary>
    public static string Stage(MeasuringPoint from, MeasuringPoint to, MethodKind kind) => (from, to) switch
    {
        (MeasuringPoint.Wall, MeasuringPoint.Usb) => "adapter",
        (MeasuringPoint.Usb, MeasuringPoint.Device) => kind == MethodKind.Wired ? "cable" : "pad and receiver",
        (MeasuringPoint.Wall, MeasuringPoint.Device) => kind == MethodKind.Wired ? "adapter and cable" : "adapter, pad and receiver",
        (MeasuringPoint.Device, MeasuringPoint.Battery) => "device",
        (MeasuringPoint.Usb, MeasuringPoint.Battery) => kind == MethodKind.Wired ? "cable and device" : "pad, receiver and device",
        _ => "charger and device",
    };

    /// <summary>How a method charges.</summary>
    public static string Kind(MethodKind kind) => PlainWords.Charged(kind);

    /// <summary>What a row of a log holds.</summary>
    public static string Samples(SampleKind samples) => samples switch
    {
        SampleKind.Instantaneous => "the reading at an instant",
        SampleKind.AverageEnding => "the mean up to its time",
        SampleKind.AverageStarting => "the mean from its time on",
        _ => "a new reading after a change",
    };

    /// <summary>What a mode means.</summary>
    public static string Mode(Mode mode) => mode switch
    {
        Measuring.Segmentation.Mode.Charge => "charging",
        Measuring.Segmentation.Mode.Maintenance => "full",
        Measuring.Segmentation.Mode.NoLoad => "waiting",
        _ => "off",
    };

    /// <summary>What a part of a charge, or a burst beside one, is.</summary>
    public static string Detail(ModeDetailKind kind) => kind switch
    {
        ModeDetailKind.ConstantPower => "constant power",
        ModeDetailKind.Taper => "taper",
        ModeDetailKind.Throttled => "throttled",
        ModeDetailKind.Pause => "pause",
        ModeDetailKind.Hold => "held",
        ModeDetailKind.TopUp => "top-up",
        _ => "attempt",
    };

    /// <summary>What a kind of fault means.</summary>
    public static string Fault(FaultKind kind) => kind switch
    {
        FaultKind.Gap => "gap between rows",
        FaultKind.TimeBackwards => "time runs backwards",
        FaultKind.TimeDuplicate => "several rows with one time",
        FaultKind.ClockStep => "the clock was set",
        FaultKind.CounterReset => "a counter started again",
        FaultKind.CounterReading => "a counter's reading off its track",
        FaultKind.UnreadableField => "field that cannot be read",
        FaultKind.ShortRow => "row with too few fields",
        FaultKind.LongRow => "row with too many fields",
        FaultKind.Clipped => "readings at the end of the meter's range",
        FaultKind.Reversed => "power with the wrong sign",
        FaultKind.Implausible => "value that cannot be",
        FaultKind.Stuck => "readings that stay the same",
        FaultKind.ZeroReadings => "zeros that are no pause",
        FaultKind.ChangedUnit => "unit that changes",
        FaultKind.RepeatedRows => "rows written twice",
        FaultKind.CounterMismatch => "the meter's counter disagrees with its readings",
        _ => "bytes that are no text",
    };
}
