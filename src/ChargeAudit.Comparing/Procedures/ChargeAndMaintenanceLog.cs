using ChargeAudit.Measuring;
using ChargeAudit.Measuring.Integration;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.Comparing.Procedures;

/// <summary>A 24 h log (or a longer one) at the charger's input, to be read as the charge and maintenance test.</summary>
public sealed record ChargeAndMaintenanceLog
{
    /// <summary>Power over time, at the charger's input.</summary>
    public required PowerEnvelope Envelope { get; init; }

    /// <summary>When the battery was connected. [s]</summary>
    public double TestStartS { get; init; }

    /// <summary>End of the log. [s]</summary>
    public required double LogEndS { get; init; }

    /// <summary>When the charger said that the battery is full; null: it did not say. [s]</summary>
    public double? FullAtS { get; init; }

    /// <summary>When the charge ended as its power shows, from where cycles are looked for; null: from when full was shown, or over the
    /// test's last 5 h. [s]</summary>
    public double? ChargeEndS { get; init; }

    /// <summary>Usual time between rows. [s]</summary>
    public required double MedianIntervalS { get; init; }

    /// <summary>Energy between two times with its uncertainty, in Wh; null: the envelope's value, its uncertainty unknown.</summary>
    public Func<double, double, Measured>? EnergyBetween { get; init; }

    /// <summary>A measured log as the test: it starts where its first charge does.</summary>
    /// <param name="log">The log, at the charger's input.</param>
    /// <param name="fullAtS">When the charger said that the battery is full; null: it did not say. [s]</param>
    public static ChargeAndMaintenanceLog From(MeasuredLog log, double? fullAtS = null)
    {
        var charge = log.Result.Sessions.Count > 0 ? log.Result.Sessions[0] : null;
        return new ChargeAndMaintenanceLog
        {
            Envelope = log.Result.Envelope,
            TestStartS = charge?.StartS ?? StartS(log),
            LogEndS = EndS(log),
            FullAtS = fullAtS,
            ChargeEndS = charge?.EndS,
            MedianIntervalS = log.Result.Layout.MedianIntervalS,
            EnergyBetween = (from, to) => log.Energies.EnergyWh(from, to, part: InvariantText.Of($"appendix-y-from-{from:F0}")),
        };
    }

    /// <summary>Energy between two times. [Wh]</summary>
    internal Measured EnergyWh(double fromS, double toS) => EnergyBetween?.Invoke(fromS, toS)
        ?? Measured.Unknown(Envelope.EnergyBetweenJ(fromS, toS) / 3600, "Wh", "the meter's accuracy was not given");

    /// <summary>Mean power over the covered time between two times. [W]</summary>
    internal Measured PowerW(double fromS, double toS) => EnergyWh(fromS, toS).In("W", 3600 / Envelope.CoveredBetweenS(fromS, toS));

    /// <summary>Where a log starts; before its first sample where that is the average of the time before it. [s]</summary>
    internal static double StartS(MeasuredLog log) => log.Result.Modes.Count > 0 ? log.Result.Modes[0].Span.StartS : 0;

    /// <summary>Where a log ends. [s]</summary>
    internal static double EndS(MeasuredLog log) => log.Result.Modes.Count > 0 ? log.Result.Modes[^1].Span.EndS : log.Result.DurationS;
}
