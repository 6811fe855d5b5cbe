using ChargeAudit.Analysis.Measuring;
using ChargeAudit.Analysis.Results;
using ChargeAudit.Analysis.Segmentation;
using ChargeAudit.Analysis.Studies;
using ChargeAudit.Logs;

namespace ChargeAudit.Analysis.Auditing;

/// <summary>Puts together what the logs of one run say.</summary>
internal static class RunAssembler
{
    /// <summary>Maintenance shorter than this says little: the device may still be finishing. [s]</summary>
    private const double LeastMaintenanceS = 300;

    /// <summary>The result of a run. A run that is left out is read too, so that its figures stay in the report.</summary>
    public static RunResult Of(Run run, StudyLogs logs, CancellationToken cancellation)
    {
        var points = new Dictionary<MeasuringPoint, RunPointResult>();
        DateTimeOffset? start = null;
        foreach (var point in run.Logs.Keys.Order())
        {
            var measured = logs.OfRun(run, point, cancellation);
            var charge = ChargeWindow.Of(run, measured);
            start ??= measured.Result.Layout.Start?.AddSeconds(charge.StartS);
            points.Add(point, PointOf(run, measured, charge));
        }

        return new RunResult
        {
            Id = run.Id,
            Start = start,
            Excluded = run.Exclude,
            StartChargePercent = run.StartChargePercent,
            EndChargePercent = run.EndChargePercent,
            Points = points,
        };
    }

    private static RunPointResult PointOf(Run run, MeasuredLog measured, ModeSpan charge)
    {
        string part = $"{run.Id}-charge";
        var energy = measured.Energies.EnergyWh(charge.StartS, charge.EndS, charge.StartUncertaintyS, charge.EndUncertaintyS, part);
        return new RunPointResult(measured.Result, measured.Result.Meter, charge, energy, MaintenanceOf(run, measured, charge));
    }

    private static Figure MaintenanceOf(Run run, MeasuredLog measured, ModeSpan charge)
    {
        var after = measured.Result.Modes.FirstOrDefault(m => m.Span.Mode == Mode.Maintenance && m.Span.EndS > charge.EndS);
        if (after is null)
        {
            return Figure.None($"no log of {run.Id} goes on with the full device still connected");
        }

        double from = Math.Max(after.Span.StartS, charge.EndS);
        return after.Span.EndS - from < LeastMaintenanceS
            ? Figure.None(FormattableString.Invariant($"the log of {run.Id} goes on for less than {LeastMaintenanceS / 60:F0} minutes after the charge"))
            : Figure.Of(measured.Energies.MeanPowerW(from, after.Span.EndS, $"{run.Id}-maintenance"));
    }
}
