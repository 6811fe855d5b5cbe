using ChargeAudit.Metrology.Statistics;

namespace ChargeAudit.Measuring.Integration;

/// <summary>Follows a cumulative counter: how far it advanced, over any resets. The default value has seen nothing.</summary>
/// <param name="Seen">Whether it has read anything.</param>
/// <param name="First">First reading.</param>
/// <param name="Last">Latest reading.</param>
/// <param name="Advance">Sum of the advances.</param>
/// <param name="Resets">How often it fell back.</param>
internal readonly record struct CounterTrack(bool Seen, double First, double Last, CompensatedSum Advance, FaultTally Resets)
{
    /// <summary>The track with one more reading; NaN is passed over.</summary>
    public CounterTrack Plus(double reading, long line)
    {
        if (double.IsNaN(reading))
        {
            return this;
        }

        if (!Seen)
        {
            return new(true, reading, reading, default, default);
        }

        bool reset = reading < Last;
        return this with { Last = reading, Advance = Advance + Step(reading), Resets = reset ? Resets.Plus(line) : Resets };
    }

    /// <summary>How far the counter advances to a reading. After a reset it starts at zero, so its own reading is the least that has flowed since.</summary>
    public double Step(double reading) => !Seen ? double.NaN : reading < Last ? Math.Max(reading, 0) : reading - Last;

    /// <summary>Both pieces; <paramref name="line"/> is the line of the first reading of <paramref name="b"/>.</summary>
    public static CounterTrack Join(in CounterTrack a, in CounterTrack b, long line)
    {
        if (!a.Seen || !b.Seen)
        {
            return a.Seen ? a : b;
        }

        var joined = a.Plus(b.First, line);
        return joined with { Last = b.Last, Advance = joined.Advance + b.Advance, Resets = FaultTally.Join(joined.Resets, b.Resets) };
    }
}
