using ChargeAudit.Measuring.Integration;
using ChargeAudit.Metrology;
using ChargeAudit.Studies.Drafting;

namespace ChargeAudit.Tests.Studies.Drafting;

/// <summary>Logs as a draft sees them, invented. A charge has its own uneven steps, so that two of them align only with
/// themselves.</summary>
internal static class Invented
{
    public static readonly DateTimeOffset Evening = new(2031, 5, 7, 18, 0, 0, TimeSpan.Zero);

    public static LogFacts Wall(string file, double energyWh, double startS = 0, int shape = 1, bool local = false) =>
        Charge(file, 230, energyWh, startS, shape) with
        {
            Quantities = new HashSet<LogQuantity> { LogQuantity.Time, LogQuantity.Voltage, LogQuantity.Current, LogQuantity.PowerFactor,
            LogQuantity.Power },
            Dialect = "wall",
            StartIsLocal = local,
        };

    public static LogFacts Usb(string file, double energyWh, double startS = 0, int shape = 1) => Charge(file, 9, energyWh, startS, shape);

    public static LogFacts Waiting(string file, double powerW, double pulseW = 0, double volts = 230) => Charge(file, volts, 1, 0, 1) with
    {
        Charges = [],
        Waiting = new WaitingFacts(powerW, pulseW, 3600),
        Dialect = volts > 60 ? "wall" : "usb",
    };

    private static LogFacts Charge(string file, double volts, double energyWh, double startS, int shape) => new()
    {
        Files = [file],
        Quantities = new HashSet<LogQuantity> { LogQuantity.Time, LogQuantity.Voltage, LogQuantity.Current },
        Dialect = "usb",
        MeanVoltageV = volts,
        Start = Evening.AddSeconds(startS),
        DurationS = 3600,
        Charges = [new ChargeFacts(1, 120, 3300, energyWh, 0.2)],
        Envelope = Steps(energyWh, shape),
    };

    private static PowerEnvelope Steps(double energyWh, int shape)
    {
        var envelope = PowerEnvelope.ForInterval(1);
        double At(int t) => t is < 120 or >= 3300
            ? 0.01 * energyWh
            : energyWh * (0.6 + (0.4 * (((t / (101 + (40 * shape))) * 7919) % 13) / 13));
        for (int t = 1; t <= 3600; t++)
        {
            envelope.AddReading(t, At(t));
            envelope.AddInterval(new PowerInterval(t - 1, t, At(t - 1), At(t)));
        }

        return envelope;
    }
}
