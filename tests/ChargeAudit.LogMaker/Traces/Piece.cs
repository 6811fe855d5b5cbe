namespace ChargeAudit.LogMaker.Traces;

/// <summary>
/// A stretch of time over which a quantity follows one formula, so that its integral between any two moments is a closed form. It is a
/// polynomial of the time since the stretch began, or of a decaying exponential, or two levels that alternate as equal pulses.
/// </summary>
public sealed record Piece
{
    /// <summary>How long it lasts. [s]</summary>
    public required double LengthS { get; init; }

    private Polynomial Curve { get; init; } = new(0);

    private double? TimeConstantS { get; init; }

    private double HighLevel { get; init; }

    private double PeriodS { get; init; }

    private double PulseS { get; init; }

    private double PhaseS { get; init; }

    public static Piece Level(double lengthS, double value) => new() { LengthS = lengthS, Curve = new Polynomial(value) };

    /// <summary>A straight line.</summary>
    public static Piece Ramp(double lengthS, double from, double to) => new()
    {
        LengthS = lengthS,
        Curve = new Polynomial(from, (to - from) / lengthS),
    };

    /// <summary>An exponential from one value that would come to rest at another.</summary>
    public static Piece Decay(double lengthS, double from, double rest, double timeConstantS) =>
        new() { LengthS = lengthS, Curve = new Polynomial(rest, from - rest), TimeConstantS = timeConstantS };

    /// <summary>Equal pulses on a level.</summary>
    /// <param name="lengthS">Length of the whole stretch. [s]</param>
    /// <param name="low">Between pulses.</param>
    /// <param name="high">In a pulse.</param>
    /// <param name="periodS">From one pulse to the next. [s]</param>
    /// <param name="pulseS">Length of a pulse. [s]</param>
    /// <param name="phaseS">Where in its period the stretch begins; a period begins with its pulse. [s]</param>
    public static Piece Pulsed(double lengthS, double low, double high, double periodS, double pulseS, double phaseS) =>
        new() { LengthS = lengthS, Curve = new Polynomial(low), HighLevel = high, PeriodS = periodS, PulseS = pulseS, PhaseS = phaseS };

    /// <summary>The same stretch seen through a polynomial, as the input of a stage is through its output.</summary>
    public Piece Through(Polynomial map) => this with { Curve = map.After(Curve), HighLevel = map.At(HighLevel) };

    /// <summary>The same course over another length of time.</summary>
    public Piece Stretched(double factor) => this with
    {
        LengthS = LengthS * factor,
        Curve = TimeConstantS is null ? Curve.After(new Polynomial(0, 1 / factor)) : Curve,
        TimeConstantS = TimeConstantS * factor,
        PeriodS = PeriodS * factor,
        PulseS = PulseS * factor,
        PhaseS = PhaseS * factor,
    };

    /// <summary>The value at a time since the stretch began.</summary>
    public double At(double s) => PeriodS > 0
        ? (s + PhaseS) % PeriodS < PulseS ? HighLevel : Curve.Factors[0]
        : Curve.At(TimeConstantS is { } tau ? Math.Exp(-s / tau) : s);

    /// <summary>The integral from the beginning of the stretch to a time since.</summary>
    public double IntegralTo(double s)
    {
        if (PeriodS > 0)
        {
            double low = Curve.Factors[0];
            return (low * s) + ((HighLevel - low) * (OnTime(s + PhaseS) - OnTime(PhaseS)));
        }

        double sum = 0;
        for (int i = 0; i < Curve.Factors.Length; i++)
        {
            // ∫ exp(-i s / τ) ds, or ∫ sⁱ ds.
            sum += Curve.Factors[i]
                * (TimeConstantS is not { } tau ? Math.Pow(s, i + 1) / (i + 1) : i == 0 ? s : tau / i * (1 - Math.Exp(-i * s / tau)));
        }

        return sum;
    }

    private double OnTime(double s)
    {
        double whole = Math.Floor(s / PeriodS);
        return (whole * PulseS) + Math.Min(s - (whole * PeriodS), PulseS);
    }
}
