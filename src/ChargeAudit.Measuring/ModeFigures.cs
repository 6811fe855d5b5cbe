using ChargeAudit.Logs;
using ChargeAudit.Measuring.Counting;
using ChargeAudit.Measuring.Integration;
using ChargeAudit.Measuring.Segmentation;
using ChargeAudit.Measuring.Standby;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.Measuring;

/// <summary>
/// Energy and mean power of one mode. The energy goes from border to border, so that the energies of all modes add up to the log's; the
/// mean power of a mode in which nothing is charged is a level, and is taken from the rows that lie wholly inside it.
/// </summary>
public static class ModeFigures
{
    private const double LeastHeldS = 60;

    /// <summary>The energy between two steps of a counter is known; one alone tells nothing about a level. [1]</summary>
    private const int LeastSteps = 2;

    /// <summary>So many steps of a counter show how a load goes to and fro. [1]</summary>
    private const int StepsForScatter = 30;

    /// <summary>Both figures of a mode.</summary>
    /// <param name="energies">The log's energies.</param>
    /// <param name="span">The mode.</param>
    /// <param name="part">What the stretch is, for the names of its own sources.</param>
    public static ModeResult Of(EnergyEstimator energies, ModeSpan span, string part) =>
        new(span, EnergyWh(energies, span, part), MeanPowerW(energies, span, part))
        {
            PowerFactor = energies.Mains.PowerFactor(span.StartS, span.EndS),
            CorrectionWh = energies.CorrectionWh(span.StartS, span.EndS),
        };

    /// <summary>Energy from border to border, the borders' uncertainty among its components. [Wh]</summary>
    public static Measured EnergyWh(EnergyEstimator energies, ModeSpan span, string part) =>
        BetweenBorders(energies, span, part)
            .Plus(OfBorders(energies, span));

    // What a border between two rows moves: where readings are means or instantaneous, and where a counter's rows hold many of its steps,
    // as such a row is the mean over it. Held values and a counter beside readings have none.
    private static MeanBorder? StepAt(EnergyEstimator energies, double borderS, double uncertaintyS)
    {
        if (energies.IsCounted)
        {
            var rise = MeanBorder.AtRise(energies.Envelope, energies.Counter.Readings, borderS, uncertaintyS, energies.IntervalS);
            return rise is { MovedJ: > 0 } found && found.HighW * energies.IntervalS >= CounterStarts.StepsInRow * energies.Counter.StepJ
                ? found : null;
        }

        bool? means = energies.Counter.Readings.Count > 0 ? null : energies.Samples switch
        {
            SampleKind.AverageEnding or SampleKind.AverageStarting => true,
            SampleKind.Instantaneous => false,
            _ => null,
        };
        return means is { } isMean ? MeanBorder.At(energies.Envelope, borderS, uncertaintyS, energies.IntervalS, isMean) : null;
    }

    private static IEnumerable<UncertaintyComponent> OfBorders(EnergyEstimator energies, ModeSpan span, double lessW = 0) =>
        energies.Sources.Of(BorderErrors.Of(energies.Envelope, span, energies.IntervalS, energies.LogId, lessW,
            (s, u) => StepAt(energies, s, u)));

    private static Measured BetweenBorders(EnergyEstimator energies, ModeSpan span, string part)
    {
        var energy = energies.EnergyWh(span.StartS, span.EndS, part);
        double MovedJ(double borderS, double uncertaintyS) => StepAt(energies, borderS, uncertaintyS)?.MovedJ ?? 0;
        double movedWh = (MovedJ(span.StartS, span.StartUncertaintyS) - MovedJ(span.EndS, span.EndUncertaintyS)) / 3600;
        return movedWh == 0 ? energy : Measured.From(energy.Value + movedWh, energy.Unit, energy.Components, energy.UnknownBecause);
    }

    /// <summary>Mean power; missing, with the reason, where too few rows lie wholly inside the mode. [W]</summary>
    public static Figure MeanPowerW(EnergyEstimator energies, ModeSpan span, string part) =>
        span.Mode == Mode.Charge ? OfCharge(energies, span, part) : LevelW(energies, span, part);

    // Of a charge the mean is its energy by its length, so a border moves both.
    private static Figure OfCharge(EnergyEstimator energies, ModeSpan span, string part)
    {
        double coveredS = energies.Envelope.CoveredBetweenS(span.StartS, span.EndS);
        if (!(coveredS > 0))
        {
            return Figure.None("nothing was logged in it");
        }

        var energy = BetweenBorders(energies, span, part);
        double meanW = 3600 * energy.Value / coveredS;
        return Figure.Of(
            energy.Plus(OfBorders(energies, span, meanW))
            .In("W", 3600 / coveredS));
    }

    private static Figure LevelW(EnergyEstimator energies, ModeSpan span, string part)
    {
        var clear = Undoubted(span);
        if (clear.DurationS <= 0)
        {
            return Figure.None("power does not tell whether it belongs to the charge beside it");
        }

        var inside = Interior(energies, span);
        bool held = energies.Samples == SampleKind.OnChange || energies.IsCounted;
        double coveredS = inside.IsEmpty
            ? 0
            : energies.Envelope.CoveredBetweenS(inside.FromS, inside.ToS) - energies.Envelope.BridgedBetweenS(inside.FromS, inside.ToS);
        if (held ? coveredS < LeastHeldS : coveredS <= 0 || inside.Readings < MeanScatter.LeastReadings)
        {
            return Figure.None(held ? Prose.Of($"without its borders it is shorter than {LeastHeldS:F0} s")
                : inside.Readings == 0 ? "no row lies wholly inside it"
                : InvariantText.Of(
                    $"{(inside.Readings == 1 ? "one row lies" : InvariantText.Of($"{inside.Readings} rows lie"))} wholly inside it, and a "
                    + $"mean needs {MeanScatter.LeastReadings}"));
        }

        int steps = energies.IsCounted ? CounterBorders.StepsIn(energies.Counter.Readings, inside.FromS, inside.ToS) : 0;
        if (energies.IsCounted && HasNeighbour(energies, span) && steps < LeastSteps)
        {
            return Figure.None(
                InvariantText.Of(
                    $"the counter made {(steps == 0 ? "no step" : "one step")} in it, which may hold energy of the mode beside it; a level "
                + $"needs {LeastSteps}"));
        }

        var mean = energies.MeanPowerW(inside.FromS, inside.ToS, part);
        return Figure.Of(held && steps < StepsForScatter ? mean
            : WithScatter(mean, energies, inside, part, energies.IsCounted ? steps : inside.Readings));
    }

    private static bool HasNeighbour(EnergyEstimator energies, ModeSpan span) =>
        span.StartS > energies.Envelope.CoveredFromS + energies.IntervalS || span.EndS < energies.Envelope.CoveredToS - energies.IntervalS;

    /// <summary>The part of a mode whose rows lie wholly inside it.</summary>
    internal static ModeInterior Interior(EnergyEstimator energies, ModeSpan span) =>
        ModeInterior.Of(energies.Envelope, Undoubted(span), energies.Samples, energies.IntervalS, energies.IsCounted);

    // A stage that may be a charge's says nothing about the level of waiting.
    private static ModeSpan Undoubted(ModeSpan span) => span with
    {
        StartS = span.OpenAtStart is { } start ? Math.Max(span.StartS, start.ToS) : span.StartS,
        EndS = span.OpenAtEnd is { } end ? Math.Min(span.EndS, end.FromS) : span.EndS,
    };

    // The scatter that a level's mean is known by takes the place of the readings' noise: a load that wanders says less about its level
    // than its readings do.
    private static Measured WithScatter(Measured mean, EnergyEstimator energies, ModeInterior inside, string part, long readings)
    {
        double[] values = Cells(energies.Envelope, inside);
        var (u, freedom) = MeanScatter.Of(values, readings) ?? (double.NaN, 1);
        if (!double.IsFinite(u))
        {
            return Measured.From(mean.Value, mean.Unit, mean.Components, mean.UnknownBecause
                ?? "too few readings to tell the scatter of the mean");
        }

        var others = mean.Components.Where(c => c.Source is not { Owner: SourceOwner.Log, Kind: SourceKind.Noise });
        var scatter =
            new UncertaintyComponent(
                InfluenceSource.OfLog(energies.LogId, SourceKind.Noise, $"{part}-noise") with { DegreesOfFreedom = freedom }, u);
        return Measured.From(mean.Value, mean.Unit, u > 0 ? others.Append(scatter) : others, mean.UnknownBecause);
    }

    private static double[] Cells(PowerEnvelope envelope, ModeInterior inside)
    {
        var values = new List<double>();
        for (int i = Math.Max(0, envelope.IndexAt(inside.FromS)); i < envelope.Count && envelope.StartS(i) < inside.ToS; i++)
        {
            ref readonly var cell = ref envelope[i];
            if (cell.CoveredS.Value > 0 && cell.BridgedS.Value == 0)
            {
                values.Add(cell.MeanPowerW);
            }
        }

        return [.. values];
    }
}
