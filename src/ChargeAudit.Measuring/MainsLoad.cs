using ChargeAudit.Logs.Layout;
using ChargeAudit.Measuring.Integration;
using ChargeAudit.Measuring.Segmentation;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.Measuring;

/// <summary>
/// The load of one log as the mains sees it: its power factor, what a meter's phase error does at it, and whether it lies within the limits
/// that the meter's accuracy is stated for. The power factor is known where voltage and current are logged beside the power, cell by cell
/// of the envelope; else it is the one that the study states. The reactive part of the current may lead or lag and be anything from none to
/// all of what is not active, so the phase error is one error within a load and does not cancel against another load's.
/// </summary>
/// <param name="summary">The log's finished summary.</param>
/// <param name="layout">How it was understood.</param>
/// <param name="meter">Its meter; null where it was not stated.</param>
/// <param name="load">What is fed; null: one load only.</param>
internal sealed class MainsLoad(LogSummary summary, LogLayout layout, Meter? meter, string? load)
{
    // A rectifier draws its current in pulses at the peak of the voltage; rectangular ones of crest factor c have the power factor √2/c.
    private static readonly double PulsedCrest = Math.Sqrt(2);

    // Where nothing is stated, a power factor below this is pointed out beside a stand-by power: tan φ is above 1.7.
    private const double Low = 0.5;
    private const double ExampleRad = 0.5 * Math.PI / 180;

    private readonly double? _phaseRad = meter is { Phase.Count: > 0 }
        ? meter.Phase.Max(p => p.HalfWidthRad(meter!.Accuracy.GetValueOrDefault(LogQuantity.Power)))
        : null;

    private bool Alternating => summary.Rules.AtTheWall || layout.Has(LogQuantity.PowerFactor) || layout.Has(LogQuantity.ApparentPower)
        || summary.VoltSeconds.Value > PowerRule.GreatestDirectVoltageV * summary.CoveredS.Value;

    // Measured apparent power may be low by what the meter states of voltage and current, which counts where the power factor is near one.
    private double ApparentExcess => 1 + Gain(LogQuantity.Voltage) + Gain(LogQuantity.Current);

    /// <summary>Real divided by apparent energy between two times; null where the log does not hold both, or nothing flowed. [1]</summary>
    public double? PowerFactor(double fromS, double toS) => Sums(fromS, toS) is { ApparentJ: > 0 } s ? Math.Min(1, Math.Abs(s.EnergyJ)
        / s.ApparentJ) : null;

    /// <summary>What the phase error and the starting power bring to an energy. [J]</summary>
    public IEnumerable<UncertaintyComponent> Components(double fromS, double toS)
    {
        if (meter is null || !Alternating)
        {
            yield break;
        }

        if (_phaseRad is > 0 and { } rad && NonActiveJ(fromS, toS) is { } nonActive)
        {
            double halfWidth = PhaseError.HalfWidthJ(summary.Envelope.EnergyBetweenJ(fromS, toS), nonActive, rad);
            yield return new(Source(SourceKind.MeterPhase, "power-phase"), halfWidth / Math.Sqrt(3));
        }

        if (meter.Limits.StartingPowerW is > 0 and { } start && UnderStart(fromS, toS, start) is { HalfWidthJ: > 0 } under)
        {
            yield return new(Source(SourceKind.StartingPower, "starting-power"), under.HalfWidthJ / Math.Sqrt(3));
        }
    }

    /// <summary>Why the stated accuracy says nothing about a stretch, as a clause; null where it does.</summary>
    public string? UnknownBecause(double fromS, double toS)
    {
        if (meter is null || (_phaseRad is not > 0 && meter.Limits.LeastPowerFactor is null) || !Alternating)
        {
            return null;
        }

        double? factor = PowerFactor(fromS, toS) ?? meter.PowerFactor;
        return _phaseRad is > 0 && factor is null && summary.Envelope.CoveredBetweenS(fromS, toS) > 0
            ? $"meter {meter.Name} states a phase error and the power factor is not known; log voltage and current beside the power, "
                + "or state "
                + "the meter's power-factor"
            : meter.Limits.LeastPowerFactor is { } least && factor < least
            ? Prose.Of(
                $"meter {meter.Name} states its accuracy down to a power factor of {least:G3} only, and here it is {factor:G2}")
            : null;
    }

    /// <summary>What to doubt where a stand-by figure rests on the meter outside its limits, as sentences.</summary>
    public IEnumerable<Doubt> Doubts(IEnumerable<ModeResult> modes)
    {
        if (!Alternating)
        {
            yield break;
        }

        foreach (var mode in modes.Where(m => m.Span.Mode is Mode.NoLoad or Mode.Maintenance))
        {
            foreach (var doubt in Doubts(mode.Span))
            {
                yield return doubt with { Text = $"{WordsOf(mode.Span)}: {doubt.Text}." };
            }
        }
    }

    private IEnumerable<Doubt> Doubts(ModeSpan span)
    {
        double? logged = PowerFactor(span.StartS, span.EndS), factor = logged ?? meter?.PowerFactor;
        string found = Prose.Of($"the power factor is {factor:G2}{(logged is null ? " as stated" : "")}");
        var limits = meter?.Limits ?? new MeterLimits();
        if (limits.LeastPowerFactor is { } least)
        {
            if (factor is null)
            {
                yield return Prose.Of($"the meter's accuracy holds from a power factor of {least:G3}, and the log does not tell it")
                    + ": a waiting charger may have 0.3 to 0.5; log voltage and current beside the power";
            }
            else if (factor < least)
            {
                yield return new(Gravity.Wide,
                    Prose.Of($"{found}, and the meter's accuracy holds from {least:G3} only, so no interval is given"));
            }
        }

        if (limits.GreatestCrestFactor is { } crest && PulsedCrest / factor > crest)
        {
            yield return Prose.Of(
                $"{found}: if the current comes in pulses its crest factor is about {PulsedCrest / factor:G2}, ")
                + Prose.Of($"and the meter's accuracy holds up to {crest:G2}");
        }

        if (limits.StartingPowerW is { } start && UnderStart(span.StartS, span.EndS, start) is { Share: > 0.01 } under)
        {
            yield return new(Gravity.Wide,
                Prose.Of($"for {100 * under.Share:F0} % of the time the reading lies below the meter's starting power of ")
                + Prose.Of($"{start:G3} W, where it may miss some or all; the interval allows for that"));
        }

        if (factor < Low && meter is { Accuracy.Count: > 0, Phase.Count: 0, Limits.LeastPowerFactor: null })
        {
            yield return InvariantText.Of($"{found}, and the meter's phase error is not stated: each half degree of it would be ")
                + Prose.Of(
                    $"{100 * ExampleRad * PhaseError.Tangent(factor.Value):F1} % of this power; state it as the accuracy's phase");
        }
    }

    private double? NonActiveJ(double fromS, double toS) => Sums(fromS, toS) is { ApparentJ: > 0 } sums ? sums.NonActiveJ
        : meter?.PowerFactor is { } factor ? Math.Abs(summary.Envelope.EnergyBetweenJ(fromS, toS)) * PhaseError.Tangent(factor)
        : null;

    // Where a reading lies below the starting power, anything from nothing to that power may have flowed.
    private (double HalfWidthJ, double Share) UnderStart(double fromS, double toS, double startW)
    {
        double timeS = 0, energyJ = 0;
        foreach (var (i, share) in Cells(fromS, toS))
        {
            ref readonly var cell = ref summary.Envelope[i];
            if (Math.Abs(cell.MeanPowerW) < startW)
            {
                timeS += share * cell.CoveredS.Value;
                energyJ += share * cell.EnergyJ.Value;
            }
        }

        double coveredS = summary.Envelope.CoveredBetweenS(fromS, toS);
        return (Math.Max(0, Math.Max((startW * timeS) - energyJ, energyJ)), coveredS > 0 ? Math.Min(1, timeS / coveredS) : 0);
    }

    // √(S² − P²) of a cell is at least that of its parts added up, so sums over cells err on the wide side.
    private (double EnergyJ, double ApparentJ, double NonActiveJ)? Sums(double fromS, double toS)
    {
        if (!Alternating || !layout.Has(LogQuantity.Voltage) || !layout.Has(LogQuantity.Current))
        {
            return null;
        }

        double energyJ = 0, apparentJ = 0, nonActiveJ = 0;
        double excess = ApparentExcess;
        foreach (var (i, share) in Cells(fromS, toS))
        {
            ref readonly var cell = ref summary.Envelope[i];
            double apparent = cell.VoltSeconds.Value * cell.ChargeC.Value / cell.CoveredS.Value, most = excess * apparent;
            energyJ += share * cell.EnergyJ.Value;
            apparentJ += share * Math.Abs(apparent);
            nonActiveJ += share * Math.Sqrt(Math.Max(0, (most * most) - (cell.EnergyJ.Value * cell.EnergyJ.Value)));
        }

        return (energyJ, apparentJ, nonActiveJ);
    }

    /// <summary>The cells of a stretch that hold time, each with the share of it that lies inside.</summary>
    internal IEnumerable<(int Index, double Share)> Cells(double fromS, double toS)
    {
        var envelope = summary.Envelope;
        for (int i = double.IsFinite(fromS) ? Math.Max(0, envelope.IndexAt(fromS)) : 0; i < envelope.Count && envelope.StartS(i) < toS; i++)
        {
            double widthS = envelope.BucketWidthS, startS = envelope.StartS(i);
            double share = (Math.Min(toS, startS + widthS) - Math.Max(fromS, startS)) / widthS;
            if (envelope[i].CoveredS.Value > 0 && share > 0)
            {
                yield return (i, share);
            }
        }
    }

    private InfluenceSource Source(SourceKind kind, string part) =>
        InfluenceSource.OfMeter(meter!.Name, kind, load is null ? part : $"{part}-of-{load}", ErrorShape.Rectangular);

    private double Gain(LogQuantity quantity) => meter is not null && meter.Accuracy.TryGetValue(quantity, out var accuracy)
        ? accuracy.Clauses.Max(c => c.RelativeHalfWidth)
        : 0;

    private static string WordsOf(ModeSpan span) =>
        Prose.Of($"{(span.Mode == Mode.NoLoad ? "Waiting" : "Full")} from {span.StartS:F0} to {span.EndS:F0} s");
}
