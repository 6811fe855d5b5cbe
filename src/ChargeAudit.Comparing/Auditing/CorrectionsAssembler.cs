using ChargeAudit.Comparing.Methods;
using ChargeAudit.Comparing.Results;
using ChargeAudit.Comparing.Runs;
using ChargeAudit.Measuring;
using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.Comparing.Auditing;

/// <summary>Puts what was corrected beside the figures as read.</summary>
internal static class CorrectionsAssembler
{
    public static IEnumerable<CorrectionResult> Of(MethodResult method, IEnumerable<LogMeasurement> waiting)
    {
        foreach (var (point, at) in method.Points.OrderBy(p => p.Key))
        {
            var runs = method.Runs.Where(r => r.Excluded is null).Select(r => r.Points.GetValueOrDefault(point)).OfType<RunPointResult>()
                .ToList();
            string by = string.Join("; ", runs.Select(r => r.Log).Concat(waiting.Where(w => w.Point == point))
                .Where(l => l.CorrectedBy is not null).Select(l => $"meter {l.Meter}: {l.CorrectedBy}").Distinct());
            CorrectionResult? Made(CorrectedFigure figure, Figure of, double? correction, string unit) =>
                of.Value is { } value && correction is { } added
                    ? new CorrectionResult(method.Name, point, figure, value.Value - added, added, unit, by)
                    : null;
            var made = new[]
            {
                Made(CorrectedFigure.EnergyPerCharge, at.EnergyPerCharge, Mean(runs.Select(r => r.CorrectionWh)), "Wh"),
                Made(CorrectedFigure.NoLoadPower, at.NoLoadPower, at.NoLoadCorrectionW, "W"),
                Made(CorrectedFigure.MaintenancePower, at.MaintenancePower, Mean(runs.Select(r => r.MaintenanceCorrectionW)), "W"),
            };
            foreach (var correction in made.OfType<CorrectionResult>())
            {
                yield return correction;
            }
        }
    }

    /// <summary>Mean of what is known; null where nothing is.</summary>
    public static double? Mean(IEnumerable<double?> values) => values.OfType<double>().ToList() is { Count: > 0 } known
        ? known.Average()
        : null;
}
