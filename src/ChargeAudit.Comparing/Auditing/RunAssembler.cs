using ChargeAudit.Comparing.Runs;
using ChargeAudit.Measuring;
using ChargeAudit.Measuring.Segmentation;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Uncertainty;
using ChargeAudit.Studies;

namespace ChargeAudit.Comparing.Auditing;

/// <summary>Puts together what the logs of one run say.</summary>
internal static class RunAssembler
{
    /// <summary>Maintenance shorter than this says little: the device may still be finishing. [s]</summary>
    private const double LeastMaintenanceS = 300;

    /// <summary>The result of a run. A run that is left out is read too, so that its figures stay in the report.</summary>
    public static RunResult Of(Run run, StudyLogs logs, CancellationToken cancellation)
    {
        var measured = run.Logs.Keys.Order().ToDictionary(p => p, p => logs.OfRun(run, p, cancellation));
        var windows = RunWindows.Of(run, measured);
        var first = measured.First();
        var logged = measured.Values.Select(m => m.Result.MeanTemperatureC).OfType<double>().ToList();
        return new RunResult
        {
            Id = run.Id,
            Start = first.Value.Result.Layout.Start?.AddSeconds(windows.Charges[first.Key].StartS),
            Excluded = run.Exclude,
            Block = run.Block,
            Factors = run.Factors,
            StartChargePercent = run.StartChargePercent,
            EndChargePercent = run.EndChargePercent,
            TemperatureC = run.TemperatureC ?? (logged.Count > 0 ? logged.Average() : null),
            Adapter = run.Adapter,
            Points = measured.ToDictionary(m => m.Key, m => PointOf(run, m.Value, windows.Charges[m.Key])),
            Clocks = windows.Clocks,
        };
    }

    private static RunPointResult PointOf(Run run, MeasuredLog measured, ModeSpan charge)
    {
        // Several runs may share a log, so what is their own carries their name.
        var energy = ModeFigures.EnergyWh(measured.Energies, charge, $"{run.Id}-charge");
        var modes = LogTiling.Of(measured, [charge]);
        var (after, notes) = AfterCharge(run, measured, charge, modes);
        var maintenance = FullOrWaiting.Of(after, modes, measured.Result.Files[0]);
        return RunPointResult.WithSums(new RunPointResult(measured.Result, measured.Result.Meter, charge, energy, maintenance)
        {
            MaintenanceNotes = notes,
            FullOrWaiting = maintenance.Value is null ? after.Value : null,
            CorrectionWh = measured.Energies.CorrectionWh(charge.StartS, charge.EndS),
            MaintenanceCorrectionW = maintenance.Value is null ? null : Correction(measured, charge, modes),
            Modes = modes,
        });
    }

    private static double? Correction(MeasuredLog measured, ModeSpan charge, IReadOnlyList<ModeResult> modes) =>
        modes.FirstOrDefault(m => m.Span.Mode == Mode.Maintenance && m.Span.StartS >= charge.EndS) is { } full
            ? measured.Energies.CorrectionW(full.Span.StartS, full.Span.EndS)
            : null;

    private static (Figure Power, IReadOnlyList<string> Notes) AfterCharge(Run run, MeasuredLog measured, ModeSpan charge,
        IReadOnlyList<ModeResult> modes)
    {
        if (modes.FirstOrDefault(m => m.Span.Mode == Mode.Maintenance && m.Span.StartS >= charge.EndS)?.Span is not { } span)
        {
            return (Figure.None($"no log of {run.Id} goes on with the full device on the charger"), []);
        }

        if (span.DurationS < LeastMaintenanceS)
        {
            return (Figure.None(
                Prose.Of($"the log of {run.Id} goes on for less than {LeastMaintenanceS / 60:F0} minutes after the charge")), []);
        }

        string file = measured.Result.Files[0];
        return StandbyAssembler.LastFourHours(measured, span, run.Id) is { } last
            ? (Figure.Of(last.Power), last.Notes)
            : (ModeFigures.MeanPowerW(measured.Energies, span, $"{run.Id}-maintenance"),
                [Prose.Of(
                    $"{file}: the full device was logged for {span.DurationS / 3600:F1} h and the mean taken; the US "
                    + $"procedure averages the last 4 h.")]);
    }
}
