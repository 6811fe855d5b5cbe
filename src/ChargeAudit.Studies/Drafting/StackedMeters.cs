using ChargeAudit.Logs;
using ChargeAudit.Measuring.Alignment;
using ChargeAudit.Metrology;

namespace ChargeAudit.Studies.Drafting;

/// <summary>Two meters on the charging line at the same time: the one that sees less energy sits nearer the device.</summary>
internal static class StackedMeters
{
    private const double LeastOverlap = 0.8;

    /// <summary>Moves a log from the adapter's output to the device where another log of the same time shows that it must have been
    /// there.</summary>
    public static List<PlacedLog> Told(List<PlacedLog> logs)
    {
        var told = logs.ToList();
        for (int i = 0; i < told.Count; i++)
        {
            for (int j = 0; j < told.Count; j++)
            {
                if (i != j && told[i].Point.Point == MeasuringPoint.Usb && told[j].Point.Point == MeasuringPoint.Usb
                    && told[i].Words.Point is null && !told[i].Point.Told && Downstream(told[i].Facts, told[j].Facts))
                {
                    told[i] = told[i] with { Point = new PointGuess(MeasuringPoint.Device, Remarks(told[i].Facts, told[j].Facts)) };
                }
            }
        }

        return told;
    }

    private static bool Downstream(LogFacts log, LogFacts other)
    {
        if (log.Start is not { } start || other.Start is not { } otherStart || log.Charges.Count == 0
            || log.Charges.Count != other.Charges.Count)
        {
            return false;
        }

        double from = Math.Max(0, (otherStart - start).TotalSeconds);
        double to = Math.Min(log.DurationS, (otherStart - start).TotalSeconds + other.DurationS);
        return to - from >= LeastOverlap * Math.Min(log.DurationS, other.DurationS)
            && log.ChargedWh < other.ChargedWh
            && ClockAligner.Find(other.Envelope, log.Envelope).Alignment is not null;
    }

    private static DraftRemark[] Remarks(LogFacts log, LogFacts other) =>
    [
        DraftRemark.Guess(
            Prose.Of(
                $"{PlainWords.At(MeasuringPoint.Device)}: it was logged at the same time as {other.File} and shows less energy "
            + $"({log.ChargedWh:0.00} Wh beside {other.ChargedWh:0.00} Wh), so it sits nearer the device.")),
        DraftRemark.Question($"Did the meter of {log.File} sit at the device?"),
    ];
}
