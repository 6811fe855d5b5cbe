using ChargeAudit.Measuring;
using ChargeAudit.Measuring.Segmentation;

namespace ChargeAudit.Comparing.Runs;

/// <summary>
/// What the rules need to know about power over one charge. It is worked out once, while the log is at hand: a study of many logs puts
/// their power over time away afterwards.
/// </summary>
internal sealed record ChargeSums
{
    private ChargeSums(LogMeasurement log, ModeSpan charge) => (Log, Charge) = (log, charge);

    /// <summary>The log.</summary>
    public LogMeasurement Log { get; }

    /// <summary>The charge.</summary>
    public ModeSpan Charge { get; }

    /// <summary>Its energy. [J]</summary>
    public double EnergyJ { get; private init; }

    /// <summary>Time that is covered. [s]</summary>
    public double CoveredS { get; private init; }

    /// <summary>Integral of voltage. [V·s]</summary>
    public double VoltSeconds { get; private init; }

    /// <summary>Integral of the squared current. [A²·s]</summary>
    public double SquaredCurrentS { get; private init; }

    /// <summary>Energy of the cells in which it flows back, as a positive number. [J]</summary>
    public double BackJ { get; private init; }

    /// <summary>Mean power just before the end, as a share of the mean over the whole charge; zero where nothing flows. [1]</summary>
    public double ShareAtEnd { get; private init; }

    /// <summary>The sums of a charge.</summary>
    public static ChargeSums Of(LogMeasurement log, ModeSpan charge)
    {
        var envelope = log.Envelope;
        double back = 0;
        for (int i = 0; i < envelope.Count; i++)
        {
            if (envelope.StartS(i) >= charge.StartS && envelope.StartS(i) < charge.EndS)
            {
                back -= Math.Min(0, envelope[i].EnergyJ.Value);
            }
        }

        return new ChargeSums(log, charge)
        {
            EnergyJ = envelope.EnergyBetweenJ(charge.StartS, charge.EndS),
            CoveredS = envelope.CoveredBetweenS(charge.StartS, charge.EndS),
            VoltSeconds = envelope.VoltSecondsBetween(charge.StartS, charge.EndS),
            SquaredCurrentS = envelope.SquaredCurrentBetweenS(charge.StartS, charge.EndS),
            BackJ = back,
            ShareAtEnd = ShareAt(log, charge, Math.Min(charge.EndS, log.DurationS)),
        };
    }

    // Just before the end: the border itself may lie a reading late.
    private static double ShareAt(LogMeasurement log, ModeSpan charge, double end)
    {
        var envelope = log.Envelope;
        double last = Math.Max(5 * log.Layout.MedianIntervalS, 0.02 * charge.DurationS);
        double atEnd = envelope.EnergyBetweenJ(end - last, end) / last;
        double mean = envelope.EnergyBetweenJ(charge.StartS, end) / Math.Max(1e-9, end - charge.StartS);
        return mean > 0 ? atEnd / mean : 0;
    }
}
