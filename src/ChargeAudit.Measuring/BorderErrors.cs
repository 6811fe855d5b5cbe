using ChargeAudit.Measuring.Integration;
using ChargeAudit.Measuring.Segmentation;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.Measuring;

/// <summary>
/// What uncertain borders do to the energy of a mode. A border that moves by a second moves a second of power from one of its two modes to
/// the other, so it is one source for both, with opposite signs: in their sum it cancels.
/// </summary>
internal static class BorderErrors
{
    /// <summary>Share of the variance of an open stretch that all logs have in common. [1]</summary>
    private const double AlikeEverywhere = 0.3;

    /// <summary>Coverage factor of a rectangular distribution at 95 %: 0.95 √3. [1]</summary>
    private const double RectangularAt95 = 1.645;

    /// <summary>The source of a border's error that the log itself shows.</summary>
    public static InfluenceSource Source(string logId, double timeS) =>
        InfluenceSource.OfLog(logId, SourceKind.Edge, InvariantText.Of($"border-at-{timeS:F1}-s"));

    /// <summary>What makes the start of a mode uncertain.</summary>
    public static IReadOnlyList<BorderError> OfStart(ModeSpan span, string logId) => span.StartErrors
        ?? Own(logId, span.StartS, span.StartUncertaintyS);

    /// <summary>What makes its end uncertain.</summary>
    public static IReadOnlyList<BorderError> OfEnd(ModeSpan span, string logId) => span.EndErrors
        ?? Own(logId, span.EndS, span.EndUncertaintyS);

    /// <summary>The energy's components from both borders. [Wh]</summary>
    /// <param name="envelope">Power over time.</param>
    /// <param name="span">The mode.</param>
    /// <param name="intervalS">Usual interval between rows. [s]</param>
    /// <param name="logId">Name of the log.</param>
    /// <param name="lessW">Taken off the power at the border: zero for an energy, the mean for a mean power. [W]</param>
    /// <param name="stepAt">What a border and its standard uncertainty move, where power stepped between two rows; null where there is no
    /// such border.</param>
    public static IEnumerable<UncertaintyComponent> Of(PowerEnvelope envelope, ModeSpan span, double intervalS, string logId,
        double lessW = 0, Func<double, double, MeanBorder?>? stepAt = null)
    {
        var atStart = stepAt?.Invoke(span.StartS, span.StartUncertaintyS);
        var atEnd = stepAt?.Invoke(span.EndS, span.EndUncertaintyS);
        var start = OfStart(span, logId)
            .Select(e => Component(envelope, span.StartS, span.StartUncertaintyS, e, -1, intervalS, lessW, atStart))
            .Concat(Level(atStart, span.StartS, -1, logId));
        var end = OfEnd(span, logId).Select(e => Component(envelope, span.EndS, span.EndUncertaintyS, e, 1, intervalS, lessW, atEnd))
            .Concat(Level(atEnd, span.EndS, 1, logId));
        return start.Concat(end).Concat(Open(envelope, span.OpenAtStart, -1, logId, lessW))
            .Concat(Open(envelope, span.OpenAtEnd, 1, logId, lessW))
            .Where(c => c.SignedStandardUncertainty != 0);
    }

    // A stretch that may belong to either side: the interval at 95 % reaches as far as all of it. What it really is may be the same in
    // every log, so a part of its variance is shared by all.
    private static IEnumerable<UncertaintyComponent> Open(PowerEnvelope envelope, OpenStretch? stretch, double sign, string logId,
        double lessW)
    {
        if (stretch is { } open)
        {
            double energyJ = envelope.EnergyBetweenJ(open.FromS, open.ToS) - (lessW * envelope.CoveredBetweenS(open.FromS, open.ToS));
            double energyWh = sign * energyJ / RectangularAt95 / Joules.PerWattHour;
            string source = InvariantText.Of($"log:{logId}/stage-at-border-at-{open.FromS:F1}-s");
            yield return new UncertaintyComponent(new InfluenceSource(source, Shape: ErrorShape.Rectangular),
                Math.Sqrt(1 - AlikeEverywhere) * energyWh);
            yield return new UncertaintyComponent(new InfluenceSource("stage-at-border", Shape: ErrorShape.Rectangular),
                Math.Sqrt(AlikeEverywhere) * energyWh);
        }
    }

    private static IReadOnlyList<BorderError> Own(string logId, double timeS, double uncertaintyS) =>
        uncertaintyS > 0 ? [new BorderError(Source(logId, timeS), uncertaintyS)] : [];

    // How well the lower level is known, where it was taken off a mean over a window in which power stepped.
    private static IEnumerable<UncertaintyComponent> Level(MeanBorder? border, double timeS, double sign, string logId) =>
        border is not { ScatterJ: > 0 } mean ? []
        : [new UncertaintyComponent(InfluenceSource.OfLog(logId, SourceKind.Noise,
            InvariantText.Of($"level-beside-border-at-{timeS:F1}-s")), sign * mean.ScatterJ / Joules.PerWattHour)];

    // The higher side is what the border may cut into; both modes see the same pair, so both take the same.
    private static UncertaintyComponent Component(
        PowerEnvelope envelope, double timeS, double allS, BorderError error, double sign, double intervalS, double lessW, MeanBorder? step)
    {
        if (step is { } found)
        {
            return new UncertaintyComponent(error.Source, sign * found.EnergyJ(error.UncertaintyS, lessW) / Joules.PerWattHour);
        }

        double reach = Math.Max(allS, 2 * intervalS);
        double before = Mean(envelope, timeS - reach, timeS) - lessW;
        double after = Mean(envelope, timeS, timeS + reach) - lessW;
        double highW = Math.Abs(before) > Math.Abs(after) ? before : after;
        return new UncertaintyComponent(error.Source, sign * highW * error.UncertaintyS / Joules.PerWattHour);
    }

    private static double Mean(PowerEnvelope envelope, double fromS, double toS)
    {
        double covered = envelope.CoveredBetweenS(fromS, toS);
        return covered > 0 ? envelope.EnergyBetweenJ(fromS, toS) / covered : 0;
    }
}
