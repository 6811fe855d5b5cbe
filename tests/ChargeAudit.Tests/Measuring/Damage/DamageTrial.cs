using System.Globalization;
using ChargeAudit.LogMaker.Chargers;
using ChargeAudit.LogMaker.Damage;
using ChargeAudit.LogMaker.Meters;
using ChargeAudit.Logs;
using ChargeAudit.Measuring;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.Tests.Measuring.Damage;

/// <summary>Measures logs of the independent maker through the library's public way, sound and damaged, and compares both with the
/// truth.</summary>
public static class DamageTrial
{
    /// <summary>Faults that say that a log is damaged; gaps and rows with the same time are normal for a logger.</summary>
    private static readonly HashSet<FaultKind> Judgements =
    [
        FaultKind.Implausible, FaultKind.Stuck, FaultKind.ZeroReadings, FaultKind.ChangedUnit, FaultKind.RepeatedRows, FaultKind.Clipped,
            FaultKind.ClockStep,
        FaultKind.CounterReset, FaultKind.CounterReading, FaultKind.CounterMismatch, FaultKind.TimeBackwards, FaultKind.TimeDuplicate,
    ];

    /// <summary>A log as it was measured, or the sentence with which it was refused.</summary>
    public sealed record Found(LogMeasurement? Log, string? Refusal)
    {
        /// <summary>Faults that point out damage.</summary>
        public IEnumerable<Fault> Told => Log?.Faults.Where(f => Judgements.Contains(f.Kind)) ?? [];
    }

    /// <summary>What a sound log is flagged for; null where it is not.</summary>
    public static string? Flag(SoundLog log)
    {
        var found = Measure(log, log.Text());
        return found.Refusal ?? found.Told.Select(f => f.ToString()).FirstOrDefault();
    }

    /// <summary>What becomes of a damaged log, and words for a list.</summary>
    public static (DamageOutcome Outcome, string Words) Of(SoundLog log, Found sound, string text)
    {
        var found = Measure(log, text);
        if (found.Log is not { } damaged)
        {
            return (DamageOutcome.Refused, found.Refusal!);
        }

        if (sound.Log is not { } whole || !Holds(whole.Energy, log.TrueWh))
        {
            return (DamageOutcome.SoundMisses, "");
        }

        bool inside = Holds(damaged.Energy, log.TrueWh);
        string words = Words("whole", damaged.Energy, log.TrueWh);
        if (double.IsFinite(log.ChargeWh) && whole.Sessions.Count == 1 && damaged.Sessions.Count == 1
            && Holds(whole.Sessions[0].Energy, log.ChargeWh)
            && !Holds(damaged.Sessions[0].Energy, log.ChargeWh))
        {
            inside = false;
            words += Words(", charge", damaged.Sessions[0].Energy, log.ChargeWh);
        }

        var before = whole.Faults.Select(f => f.Kind).ToHashSet();
        bool told = damaged.Faults.Any(f => !before.Contains(f.Kind))
            || (damaged.Energy.UnknownBecause is not null && whole.Energy.UnknownBecause is null);
        words += "; " + string.Join(", ", damaged.Faults.Select(f => $"{f.Kind} x{f.Count} at {f.FirstLine}"));
        return ((inside, told) switch
        {
            (true, true) => DamageOutcome.InsideTold,
            (true, false) => DamageOutcome.InsideSilent,
            (false, true) => DamageOutcome.OutsideTold,
            _ => DamageOutcome.OutsideSilent,
        }, words);
    }

    /// <summary>Measures a text as the log of a meter.</summary>
    public static Found Measure(SoundLog log, string text)
    {
        string path = Path.GetTempFileName();
        try
        {
            File.WriteAllText(path, text);
            return new Found(
                LogMeasurer.Measure(new MeasureRequest { Paths = [path], Names = ["log.csv"], Meter = MeterOf(log.Meter) }).Result, null);
        }
        catch (InputException refused)
        {
            return new Found(null, refused.Message);
        }
        finally
        {
            File.Delete(path);
        }
    }

    private static bool Holds(Measured energy, double trueWh) => energy.Interval() is not { } i || (trueWh >= i.Low && trueWh <= i.High);

    private static string Words(string what, Measured energy, double trueWh) => energy.Interval() is { } i
        ? InvariantText.Of($"{what} {i.Low:F4} to {i.High:F4} for {trueWh:F4} Wh")
        : $"{what} without interval: {energy.UnknownBecause}";

    private static Meter MeterOf(MeterSheet sheet)
    {
        var stated = new Dictionary<LogQuantity, string>();
        if (sheet.OnDirectCurrent)
        {
            stated[LogQuantity.Voltage] = Stated(sheet.VoltageLimit, "V");
            stated[LogQuantity.Current] = Stated(sheet.CurrentLimit, "A");
        }
        else if (sheet.Kind != RowKind.CounterOnly)
        {
            stated[LogQuantity.Power] = Stated(sheet.PowerLimit, "W")
                + (sheet.StepStated ? $" resolution {Number(sheet.PowerStep)} W" : "");
        }

        if (sheet.CounterStepWh > 0)
        {
            stated[LogQuantity.Energy] =
                Number(100 * (sheet.OnDirectCurrent ? sheet.VoltageLimit.Gain + sheet.CurrentLimit.Gain : sheet.PowerLimit.Gain)) + " %";
        }

        SampleKind? samples = sheet.Kind switch
        {
            RowKind.AverageEnding => SampleKind.AverageEnding,
            RowKind.AverageStarting => SampleKind.AverageStarting,
            RowKind.OnChange => SampleKind.OnChange,
            RowKind.Instantaneous => SampleKind.Instantaneous,
            _ => null,
        };
        return new Meter
        {
            Name = sheet.Name,
            Options = new LogOptions { Point = sheet.Place == Place.Wall ? MeasuringPoint.Wall : MeasuringPoint.Usb, Samples = samples },
            Accuracy = stated.ToDictionary(s => s.Key, s => MeterAccuracy.Parse(s.Value, s.Key)),
        };
    }

    private static string Stated(Limit limit, string unit) => $"{Number(100 * limit.Gain)} % + {Number(1000 * limit.Offset)} m{unit}";

    private static string Number(double value) => Math.Round(value, 9).ToString(CultureInfo.InvariantCulture);
}
