using ChargeAudit.Logs;
using ChargeAudit.Measuring;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.EndToEnd.Library;

/// <summary>How much more energy one charge on a pad took than one by cable, both read by the same plug-in meter.</summary>
public static class OverheadOfTwoLogs
{
    public static Measured Of(string cableLog, string padLog, TextWriter output)
    {
        // Where the meter sat, and how good its data sheet says it is. Without accuracy there would be no interval.
        var plug = new Meter
        {
            Name = "plug",
            Options = new LogOptions { Point = MeasuringPoint.Wall },
            Accuracy = new Dictionary<LogQuantity, MeterAccuracy>
            {
                [LogQuantity.Power] = MeterAccuracy.Parse("0.5 % + 10 mW", LogQuantity.Power),
            },
        };

        Measured cable = EnergyOfTheCharge(cableLog, plug, output);
        Measured pad = EnergyOfTheCharge(padLog, plug, output);

        // The gain error of the one meter is a source that both energies share: it cancels here by itself.
        Measured ratio = Measured.Quotient(pad, cable);
        CoverageInterval interval = ratio.Interval()!.Value;
        output.WriteLine(InvariantText.Of($"cable {cable.Value:F2} {cable.Unit}, pad {pad.Value:F2} {pad.Unit}"));
        output.WriteLine(
            InvariantText.Of($"the pad takes {ratio.Value:F3} times as much (95 % interval {interval.Low:F3} to {interval.High:F3})"));
        return ratio;
    }

    private static Measured EnergyOfTheCharge(string log, Meter meter, TextWriter output)
    {
        // Reads the log once, in bounded memory. What cannot be used is an InputException with one clear sentence.
        var found = LogMeasurer.Measure(new MeasureRequest { Paths = [log], Meter = meter }).Result;
        foreach (var fault in found.Faults)
        {
            output.WriteLine(InvariantText.Of($"{log}, line {fault.FirstLine}: {fault.Detail}"));
        }

        return found.Sessions[0].Energy;
    }
}
