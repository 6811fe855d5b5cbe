using ChargeAudit.Measuring;
using ChargeAudit.Measuring.Integration;
using ChargeAudit.Measuring.Segmentation;
using ChargeAudit.Measuring.Standby;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Uncertainty;
using ChargeAudit.Studies;

namespace ChargeAudit.Comparing.Auditing;

/// <summary>Stand-by powers by the published methods, with the meter's errors on top of the scatter.</summary>
internal static class StandbyAssembler
{
    private const int LeastReadings = 6;
    private const double FourHoursS = 4 * 3600;

    /// <summary>The power of one log made for the purpose, and what to think of it.</summary>
    /// <param name="log">The log, read by its power.</param>
    /// <param name="counter">The same log read by the energy counter beside its power; null where it holds none.</param>
    public static (Measured Power, IReadOnlyList<string> Notes) Of(MeasuredLog log, MeasuredLog? counter)
    {
        var (power, notes) = PowerOf(log, counter);
        return (power, [.. notes, .. Told(log.Result.Files[0], PowerFactor(log, double.NegativeInfinity, double.PositiveInfinity))]);
    }

    private static IEnumerable<string> PowerFactor(MeasuredLog log, double fromS, double toS) =>
        log.Energies.Mains.PowerFactor(fromS, toS) is { } factor
            ? [Prose.Of($"the power factor was {factor:F2}, from the voltage and current beside the power.")]
            : [];

    private static (Measured Power, IReadOnlyList<string> Notes) PowerOf(MeasuredLog log, MeasuredLog? counter)
    {
        var result = log.Result;
        var envelope = result.Envelope;
        string file = result.Files[0];
        if (result.PowerFrom == PowerRule.Describe(PowerSource.EnergyCounter))
        {
            return ByCounter(log) is { } own
                ? (own.Power, Told(file, own.Notes))
                : (Mean(log),
                    Told(file, ["too short for the published accumulated-energy method; the counter's advance over all of it was taken."]));
        }

        var samples = StandbySamples.Of(envelope, envelope.OriginS, envelope.StartS(envelope.Count), result.Layout.Samples, result.Point);
        if (samples.PowerW.Count < LeastReadings)
        {
            return (Mean(log), Told(file, ["too short for the published sampling method; the mean of all of it was taken."]));
        }

        var sampled = StandbyPower.BySampling(samples, InfluenceSource.OfLog(file, SourceKind.Noise, "stand-by-scatter"));
        var power = WithMeter(sampled, log, envelope.OriginS, "no-load");
        if (log.Energies.IsCorrected || counter is null || ByCounter(counter) is not { } counted)
        {
            return (power, Told(file, sampled.Notes.Prepend(Sentence(sampled))));
        }

        counted.Power = WithOffsets(counted.Power, power);
        var (takeCounter, why, apartW) = StandbyChoice.Of(sampled, result.Layout.Samples, power, counted.Power);
        return takeCounter
            ? (StandbyChoice.Covering(counted.Power, apartW, file), Told(file, counted.Notes.Append(why)))
            : (StandbyChoice.Covering(power, apartW, file), Told(file, sampled.Notes.Prepend(Sentence(sampled)).Append(why)));
    }

    /// <summary>The power in maintenance as the mean of its last four hours; null where it was not logged for so long.</summary>
    public static (Measured Power, IReadOnlyList<string> Notes)? LastFourHours(MeasuredLog log, ModeSpan maintenance, string runId)
    {
        // The procedure samples power; a counter's power between two steps is a mean already, and its steps are not scatter.
        if (log.Energies.IsCounted)
        {
            return null;
        }

        var result = log.Result;
        var inside = ModeFigures.Interior(log.Energies, maintenance);
        maintenance = maintenance with { StartS = inside.FromS, EndS = inside.ToS };
        if (maintenance.DurationS < FourHoursS || maintenance.DurationS / result.Envelope.BucketWidthS < LeastReadings + 2)
        {
            return null;
        }

        var finding = StandbyPower.OfLastFourHours(result.Envelope, maintenance, result.Layout.Samples, result.Point,
            InfluenceSource.OfLog(result.Files[0], SourceKind.Noise, $"{runId}-maintenance-scatter"));
        return (WithMeter(finding, log, maintenance.StartS, $"{runId}-maintenance"),
            [.. finding.Notes.Prepend(Sentence(finding)).Concat(PowerFactor(log, maintenance.StartS, maintenance.EndS))
                .Select(n => $"{result.Files[0]}: {n}")]);
    }

    // A counter adds up every pulse, so where it gives the power its own method is used; null where it was logged too briefly.
    private static (Measured Power, IEnumerable<string> Notes)? ByCounter(MeasuredLog log)
    {
        var envelope = log.Result.Envelope;
        var (counted, step) = log.Energies.Counter;
        if (counted.Count < LeastReadings)
        {
            return null;
        }

        double stepJ = double.IsFinite(step) ? step : 0;
        var source = InfluenceSource.OfLog(log.Result.Files[0], SourceKind.CounterReading, "stand-by-counter-step");
        var finding = StandbyPower.ByAccumulatedEnergy([.. counted.Select(c => c.TimeS)], [.. counted.Select(c => c.EnergyJ)], stepJ,
            log.Result.Point, source);
        return (WithMeter(finding, log, envelope.OriginS, "no-load"), finding.Notes.Prepend(Sentence(finding)));
    }

    // The counter adds up what the same meter measures, so a power that is off by some milliwatts when little flows is off by as much in
    // the counter, whatever the data sheet says about its energy at full load.
    private static Measured WithOffsets(Measured counted, Measured readings) => Measured.From(
        counted.Value,
        counted.Unit,
        counted.Components.Concat(readings.Components.Where(c => c.Source is { Owner: SourceOwner.Meter, Kind: SourceKind.MeterOffset })),
        counted.UnknownBecause);

    private static Measured Mean(MeasuredLog log) => log.Energies.MeanPowerW(double.NegativeInfinity, double.PositiveInfinity, "no-load");

    private static IReadOnlyList<string> Told(string file, IEnumerable<string> notes) => [.. notes.Select(n => $"{file}: {n}")];

    // The same scatter is in the log's noise already, and the same step in the counter's; the method's own estimate, which knows how
    // readings are correlated, takes their place.
    private static Measured WithMeter(StandbyFinding finding, MeasuredLog log, double originS, string part)
    {
        var mean = log.Energies.MeanPowerW(originS + finding.FromS, originS + finding.ToS, part, byReadings: true);
        var meter = mean.Components.Where(c => !IsTheMethodsOwn(finding.Method, c.Source.Kind));
        double value = finding.Power.Value + (log.Energies.CorrectionW(originS + finding.FromS, originS + finding.ToS) ?? 0);
        return Measured.From(value, finding.Power.Unit, finding.Power.Components.Concat(meter), finding.Power.UnknownBecause
            ?? mean.UnknownBecause);
    }

    private static bool IsTheMethodsOwn(StandbyMethod method, SourceKind kind) => method == StandbyMethod.AccumulatedEnergy
        ? kind is SourceKind.CounterReading or SourceKind.Steps
        : kind is SourceKind.Noise or SourceKind.CounterReading;

    private static string Sentence(StandbyFinding finding)
    {
        string stable = finding.Stability switch
        {
            Stability.Stable =>
                Prose.Of(
                    $"the power was stable by its test ({1000 * finding.DriftWPerH:F1} mW/h, allowed "
                + $"{1000 * finding.DriftLimitWPerH:F1} mW/h)"),
            Stability.Drifting =>
                Prose.Of(
                    $"the power was not stable by its test ({1000 * finding.DriftWPerH:F1} mW/h, allowed "
                + $"{1000 * finding.DriftLimitWPerH:F1} mW/h)"),
            _ => "its test of stability could not be made on a log so short or a counter so coarse",
        };
        string pulses = finding.Pulses switch
        {
            PulseCoverage.NotCarried => "; the sampling cannot carry the load's pulses",
            PulseCoverage.SeveralReadingsAPulse => "; each pulse has several readings, so the sampling carries them",
            PulseCoverage.MeterAverages => "; the meter adds up or averages between readings, so no pulse is missed",
            _ => "; no pulses were seen",
        };
        return $"{PlainWords.Capital(finding.Wording).TrimEnd('.')}: {stable}{pulses}.";
    }
}
