using ChargeAudit.LogMaker.Traces;

namespace ChargeAudit.LogMaker.Chargers;

/// <summary>A steady draw, or one with equal pulses on it: a pad that looks for a device, a full phone that wakes up.</summary>
/// <param name="LowW">Between pulses. [W]</param>
/// <param name="HighW">In a pulse; the same as between them where there is none. [W]</param>
/// <param name="PeriodS">From one pulse to the next. [s]</param>
/// <param name="PulseS">Length of a pulse. [s]</param>
public sealed record Levels(double LowW, double HighW, double PeriodS, double PulseS)
{
    public static Levels Steady(double powerW) => new(powerW, powerW, 1, 0.5);

    /// <summary>Whether there are pulses.</summary>
    public bool HasPulses => HighW != LowW;

    /// <summary>Share of the time in pulses. [1]</summary>
    public double Duty => PulseS / PeriodS;

    /// <summary>Mean over whole periods. [W]</summary>
    public double MeanW => LowW + ((HighW - LowW) * Duty);

    /// <summary>Standard deviation of single instants. [W]</summary>
    public double ScatterW => (HighW - LowW) * Math.Sqrt(Duty * (1 - Duty));

    public Levels Through(Polynomial map) => this with { LowW = map.At(LowW), HighW = map.At(HighW) };

    public Levels By(double factor) => this with { LowW = LowW * factor, HighW = HighW * factor };

    /// <summary>A stretch of it that begins anywhere in its period.</summary>
    public Piece For(double lengthS, double phaseS) => HasPulses
        ? Piece.Pulsed(lengthS, LowW, HighW, PeriodS, PulseS, phaseS)
        : Piece.Level(lengthS, LowW);
}
