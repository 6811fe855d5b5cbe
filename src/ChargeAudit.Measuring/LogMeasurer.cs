using ChargeAudit.Logs;
using ChargeAudit.Logs.Layout;
using ChargeAudit.Measuring.Counting;
using ChargeAudit.Measuring.Damage;
using ChargeAudit.Measuring.Integration;
using ChargeAudit.Measuring.Segmentation;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.Measuring;

/// <summary>Measures one log: reads it once, sums it, finds its modes and works out their energies with uncertainties.</summary>
public static class LogMeasurer
{
    /// <summary>Measures a log.</summary>
    /// <param name="request">The log and what is known about it.</param>
    /// <param name="bytesRead">Told how many bytes have been read.</param>
    /// <param name="cancellation">Stops the reading.</param>
    /// <exception cref="InputException">The log cannot be used.</exception>
    public static MeasuredLog Measure(MeasureRequest request, IProgress<long>? bytesRead = null, CancellationToken cancellation = default)
    {
        var read = LogReading.Of(request, bytesRead, cancellation);
        request = read.From is { } from ? LogSettings.Completed(request, from.Said) : request;
        var meter = request.Meter;
        var point = LogReading.PointOf(request);
        var options = LogReading.OptionsOf(request);
        var names = request.Names ?? read.From?.Files.Select(f => f.Name).ToList() ?? request.Paths;
        string file = names[0];

        // What the steps were told from has done its work, and takes more room than most of what is found.
        var layout = read.Layout with { Steps = new Dictionary<LogQuantity, StepEvidence>() };
        var (source, summary, outcomes) = (read.Source, read.Summary, read.Outcomes);
        var rules = summary.Rules;
        DamageFinder.Refuse(file, summary, options.MaxBadRowShare);
        LogRefusals.Check(file, summary, layout, source, point);

        var energies = new EnergyEstimator(summary, layout, meter, request.LogId ?? file, request.Load);

        // A hole between two files of one log is a gap between rows as well; it is reported once.
        bool gapsTold = summary.GapFaults.Count > 0;
        var faults = outcomes.SelectMany(o => o.Faults).Where(f => !gapsTold || f.Kind != FaultKind.Gap)
            .Concat(LogFaults.Of(summary, layout, meter, energies)).Concat(DamageFinder.Faults(summary)).OrderBy(f => f.FirstLine)
            .ThenBy(f => f.Kind).ToList();
        LogRefusals.CheckFaults(file, faults, options);

        // The energy of the whole log does not need the modes, nor do they need it.
        bool alternating = IsAlternating(point, layout, summary);
        var ofWhole = Task.Run(() => WholeOf(layout, alternating, energies), CancellationToken.None);
        var finding = ModesIn(summary, rules, request.Modes);
        var modes = ModesOf(finding.Modes, energies);
        var whole = ofWhole.GetAwaiter().GetResult();

        var result = new LogMeasurement
        {
            Files = names,
            Sha256 = [.. outcomes.Select(o => o.Sha256)],
            Point = point,
            Meter = meter is { Name: not "command-line" } ? meter.Name : null,
            Layout = layout,
            PowerFrom = PowerRule.Describe(source),
            Rows = outcomes.Sum(o => o.Rows),
            RowsSkipped = outcomes.Sum(o => o.RowsSkipped),
            Faults = faults,
            Energy = whole.Energy,
            Charge = whole.Charge,
            DurationS = summary.EndS - summary.StartS,
            MeanPower = whole.MeanPower,
            PeakPowerW = double.IsFinite(summary.PeakPowerW) ? summary.PeakPowerW : PeakOfCells(summary.Envelope),
            Modes = modes,
            Details = finding.Details,
            Sessions = SessionsOf(modes),
            CounterEnergyWh = summary.CounterEnergyJ / Joules.PerWattHour,
            MeanTemperatureC = summary.MeanTemperatureC,
            Doubts = [.. LogDoubts.OfReading(layout, outcomes)
                .Concat(request.Source is null ? CoarseReadings.Doubts(layout, source) : [])
                .Concat(finding.Doubts)
                .Concat(LogDoubts.Of(summary, layout, energies, modes, point))
                .Concat(energies.Mains.Doubts(modes))
                .Concat(energies.Correction.Doubts())
                .OrderBy(d => d.Gravity)],
            CorrectedBy = energies.Correction.Words(),
            Envelope = summary.Envelope,
            From = read.From,
        };
        return new MeasuredLog(result, energies, finding);
    }

    /// <summary>Measures a log on a thread of the pool: measuring is work for the processor.</summary>
    /// <param name="request">The log and what is known about it.</param>
    /// <param name="bytesRead">Told how many bytes have been read.</param>
    /// <param name="cancellation">Stops the reading.</param>
    /// <exception cref="InputException">The log cannot be used.</exception>
    /// <exception cref="OperationCanceledException">The reading was stopped.</exception>
    public static Task<MeasuredLog> MeasureAsync(MeasureRequest request, IProgress<long>? bytesRead = null,
        CancellationToken cancellation = default) =>
        Task.Run(() => Measure(request, bytesRead, cancellation), cancellation);

    /// <summary>The modes of a summed log, their borders moved to where its counters and held values put them.</summary>
    internal static ModeFinding ModesIn(LogSummary summary, SummaryRules rules, ModeOptions modes)
    {
        var finding = ModeFinder.Find(summary.Course, modes with
        {
            MeterZeroW = ZeroLimits.PowerW(summary),
            LookS = rules.ChangeThreshold?.LookS ?? 0,
            UnwrittenW = HeldBorders.UnwrittenW(summary),
            StepsLieBetweenRows = rules.Samples is SampleKind.AverageEnding or SampleKind.AverageStarting
                || (rules.Samples == SampleKind.Instantaneous && rules.Source != PowerSource.EnergyCounter && summary.Counted.Count == 0),
        });
        return GapBorders.Of(finding with { Modes = HeldBorders.Of(OfCounter(finding.Modes, summary, modes), summary) }, summary);
    }

    private static IReadOnlyList<ModeSpan> OfCounter(IReadOnlyList<ModeSpan> modes, LogSummary summary, ModeOptions options)
    {
        var (started, startsS) = CounterStarts.Of(modes, summary);
        return CounterEnds.Of(CounterBorders.Of(started, summary, startsS), summary, options.NoLoadPowerW, options.NoLoadMostW);
    }

    private static (Measured Energy, Measured MeanPower, Figure Charge) WholeOf(LogLayout layout, bool alternating,
        EnergyEstimator energies) => (
        energies.EnergyWh(double.NegativeInfinity, double.PositiveInfinity),
        energies.MeanPowerW(double.NegativeInfinity, double.PositiveInfinity, "whole"),
        ChargeOf(layout, alternating, energies));

    private static List<ModeResult> ModesOf(IReadOnlyList<ModeSpan> spans, EnergyEstimator energies)
    {
        var modes = new List<ModeResult>();
        foreach (var span in spans)
        {
            string part = InvariantText.Of($"{StableName.Of(span.Mode).Replace("-", "", StringComparison.Ordinal)}-at-{span.StartS:F0}-s");
            modes.Add(ModeFigures.Of(energies, span, part));
        }

        return modes;
    }

    private static List<SessionResult> SessionsOf(List<ModeResult> modes)
    {
        var sessions = new List<SessionResult>();
        for (int i = 0; i < modes.Count; i++)
        {
            if (modes[i].Span.Mode == Mode.Charge)
            {
                double maintenance = i + 1 < modes.Count && modes[i + 1].Span.Mode == Mode.Maintenance ? modes[i + 1].Span.DurationS : 0;
                sessions.Add(new SessionResult(modes[i].Span.StartS, modes[i].Span.EndS, modes[i].Energy, maintenance));
            }
        }

        return sessions;
    }

    // Behind a plug, voltage and current are effective values, whether or not it was stated that the meter sat there.
    private static bool IsAlternating(MeasuringPoint? point, LogLayout layout, LogSummary summary) =>
        point == MeasuringPoint.Wall || layout.Has(LogQuantity.PowerFactor) || layout.Has(LogQuantity.ApparentPower)
        || summary.VoltSeconds.Value > PowerRule.GreatestDirectVoltageV * summary.CoveredS.Value;

    private static Figure ChargeOf(LogLayout layout, bool alternating, EnergyEstimator energies)
    {
        if (!layout.Has(LogQuantity.Current))
        {
            return Figure.None("the log holds no current");
        }

        return alternating
            ? Figure.None("on alternating current no charge is moved")
            : Figure.Of(energies.ChargeAh(double.NegativeInfinity, double.PositiveInfinity));
    }

    private static double PeakOfCells(PowerEnvelope envelope)
    {
        double peak = 0;
        for (int i = 0; i < envelope.Count; i++)
        {
            peak = envelope[i].MeanPowerW > peak ? envelope[i].MeanPowerW : peak;
        }

        return peak;
    }

    /// <summary>A point in a log as seconds from its first sample; null where none was given. [s]</summary>
    /// <exception cref="InputException">The log holds only elapsed time and an absolute one was given.</exception>
    public static double? SecondsOf(LogTime? time, LogLayout layout, string file, string key)
    {
        if (time is null)
        {
            return null;
        }

        if (time.ElapsedS is { } elapsed)
        {
            return elapsed;
        }

        if (layout.Start is not { } start)
        {
            throw new InputException(InputProblem.Unusable,
                $"{file} holds only elapsed time, so {key} cannot be a date; give the seconds from its first row");
        }

        if (!time.HasOffset && !layout.StartIsLocal)
        {
            // A time written without an offset means the log's own clock.
            return (time.Absolute!.Value.DateTime - start.DateTime).TotalSeconds;
        }

        return (time.Absolute!.Value - start).TotalSeconds;
    }
}
