using ChargeAudit.Comparing.Runs;
using ChargeAudit.Logs;
using ChargeAudit.Measuring;
using ChargeAudit.Measuring.Alignment;
using ChargeAudit.Measuring.Segmentation;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Uncertainty;
using ChargeAudit.Studies;

namespace ChargeAudit.Comparing.Auditing;

/// <summary>
/// The charge of one run in each of its logs. The meter nearest the device sees the end of a charge most clearly, so it decides; the others
/// get the same moments, carried over by the offset of the clocks that their power steps show. Where the steps do not tell, each log's own
/// charge is taken.
/// </summary>
internal sealed class RunWindows
{
    /// <summary>Clocks further apart than this are not two clocks set at about the same time, but different charges. [s]</summary>
    private const double LargestOffsetS = 6 * 3600;

    /// <summary>Two logs show the same border where they differ by no more than this many joint standard uncertainties. [1]</summary>
    private const double SameBorder = 3;

    private readonly Dictionary<MeasuringPoint, ModeSpan> _charges = [];
    private readonly List<ClockResult> _clocks = [];

    private RunWindows()
    {
    }

    /// <summary>The charge in each log.</summary>
    public IReadOnlyDictionary<MeasuringPoint, ModeSpan> Charges => _charges;

    /// <summary>How the clocks differ.</summary>
    public IReadOnlyList<ClockResult> Clocks => _clocks;

    /// <summary>Finds them.</summary>
    public static RunWindows Of(Run run, IReadOnlyDictionary<MeasuringPoint, MeasuredLog> logs)
    {
        var windows = new RunWindows();
        var deciding = logs.Keys.Max();
        var charge = ChargeWindow.Of(run, logs[deciding]);
        windows._charges.Add(deciding, charge);
        foreach (var point in logs.Keys.Where(p => p != deciding).OrderDescending())
        {
            windows.Carry(run, point, logs[point], deciding, logs[deciding], charge);
        }

        return windows;
    }

    private void Carry(Run run, MeasuringPoint point, MeasuredLog log, MeasuringPoint deciding, MeasuredLog reference, ModeSpan charge)
    {
        var finding = ClockAligner.Find(reference.Result.Envelope, log.Result.Envelope);
        var carried = finding.Alignment is { } alignment ? CarriedOver(run, point, charge, alignment, log, reference) : null;
        _charges.Add(point, carried ?? ChargeWindow.Of(run, log));
        _clocks.Add(new ClockResult(point, deciding, Ahead(run, point, finding, log.Result, reference.Result), carried is not null));
    }

    private static ModeSpan? CarriedOver(Run run, MeasuringPoint point, ModeSpan charge, ClockAlignment alignment, MeasuredLog log,
        MeasuredLog reference)
    {
        double start = alignment.ToOtherS(charge.StartS);
        double end = alignment.ToOtherS(charge.EndS);
        var envelope = log.Result.Envelope;
        double slack = 2 * log.Result.Layout.MedianIntervalS;
        if (start < envelope.OriginS - slack || end > envelope.StartS(envelope.Count) + slack)
        {
            return null;
        }

        // Both ends move with the clock, and each with the border that the deciding log shows.
        var clock =
            new BorderError(new InfluenceSource($"{StudyWords.Of(point)}-clock-at-border")
            {
                Owner = SourceOwner.Run,
                OwnerName = run.Id,
                Kind = SourceKind.Edge
            }, alignment.OffsetUncertaintyS);
        var carried = charge with
        {
            StartS = start,
            EndS = end,
            OpenAtStart = Carried(charge.OpenAtStart, alignment),
            OpenAtEnd = Carried(charge.OpenAtEnd, alignment),
            StartErrors = [.. BorderErrors.OfStart(charge, reference.Energies.LogId), clock],
            EndErrors = [.. BorderErrors.OfEnd(charge, reference.Energies.LogId), clock],
        };
        return Surer(carried with { StartUncertaintyS = Joint(carried.StartErrors), EndUncertaintyS = Joint(carried.EndErrors) },
            log.Result, run.FullAt is not null);
    }

    private static OpenStretch? Carried(OpenStretch? open, ClockAlignment alignment) =>
        open is { } o ? new OpenStretch(alignment.ToOtherS(o.FromS), alignment.ToOtherS(o.ToS)) : null;

    private static double Joint(IEnumerable<BorderError> errors) => Math.Sqrt(errors.Sum(e => e.UncertaintyS * e.UncertaintyS));

    // Where a log shows the same border itself, and more sharply than it can be carried over from the other meter, its own border is taken;
    // not where the device itself said when it was full.
    private static ModeSpan Surer(ModeSpan carried, LogMeasurement log, bool endIsTold)
    {
        var own = log.Modes.Select(m => m.Span).Where(m => m.Mode == Mode.Charge)
            .FirstOrDefault(m => Math.Min(m.EndS, carried.EndS) - Math.Max(m.StartS, carried.StartS) > 0.5
                * Math.Max(m.DurationS, carried.DurationS));
        if (own is null)
        {
            return carried;
        }

        if (IsSurer(own.StartS, own.StartUncertaintyS, carried.StartS, carried.StartUncertaintyS))
        {
            carried = carried with { StartS = own.StartS, StartUncertaintyS = own.StartUncertaintyS, StartErrors = own.StartErrors };
        }

        return !endIsTold && IsSurer(own.EndS, own.EndUncertaintyS, carried.EndS, carried.EndUncertaintyS)
            ? carried with { EndS = own.EndS, EndUncertaintyS = own.EndUncertaintyS, EndErrors = own.EndErrors }
            : carried;
    }

    private static bool IsSurer(double ownS, double ownU, double carriedS, double carriedU) =>
        ownU > 0 && ownU < carriedU && Math.Abs(ownS - carriedS) <= SameBorder * Math.Sqrt((ownU * ownU) + (carriedU * carriedU));

    // Elapsed times have no clock to be ahead: only where both logs carry absolute times does an offset say anything about the meters'
    // clocks.
    private static Figure Ahead(Run run, MeasuringPoint point, AlignmentFinding finding, LogMeasurement log, LogMeasurement reference)
    {
        if (finding.Alignment is not { } alignment)
        {
            return Figure.None($"the power steps of {run.Id} do not show it: {finding.RefusedBecause}");
        }

        if (log.Layout.Start is not { } own || reference.Layout.Start is not { } other)
        {
            return Figure.None("a log of elapsed times has no clock to compare");
        }

        double ahead = (own - other).TotalSeconds - alignment.OffsetS;
        return Math.Abs(ahead) > LargestOffsetS
            ? Figure.None(
                Prose.Of($"the logs of {run.Id} lie {Math.Abs(ahead) / 3600:F1} h apart, so they may belong to different charges"))
            : Figure.Of(
                Measured.From(ahead, "s",
                [new UncertaintyComponent(new InfluenceSource($"{StudyWords.Of(point)}-clock-offset") { Owner = SourceOwner.Run,
                OwnerName = run.Id, Kind = SourceKind.Clock }, alignment.OffsetUncertaintyS)]));
    }
}
