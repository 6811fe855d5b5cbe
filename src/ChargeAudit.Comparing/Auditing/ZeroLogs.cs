using ChargeAudit.Measuring;
using ChargeAudit.Measuring.Segmentation;
using ChargeAudit.Metrology.Calibration;
using ChargeAudit.Metrology.Diagnostics;
using ChargeAudit.Metrology.Uncertainty;
using ChargeAudit.Studies;

namespace ChargeAudit.Comparing.Auditing;

/// <summary>Logs of zero readings: nothing was connected behind the meter. Each is measured once, and its mean is a point at
/// zero.</summary>
/// <param name="study">The study.</param>
/// <param name="summaries">Summaries of its logs; null: none.</param>
internal sealed class ZeroLogs(Study study, SummaryFolder? summaries)
{
    // A log that reads the same zero throughout still does not know it to better than this. [W]
    private const double LeastU = 1e-6;

    private readonly Dictionary<string, Meter> _meters = new(StringComparer.Ordinal);
    private readonly List<MeasuredLog> _logs = [];

    /// <summary>The logs measured so far.</summary>
    public IReadOnlyList<MeasuredLog> All => _logs;

    /// <summary>The meter with its zero readings in its calibrations.</summary>
    /// <exception cref="InputException">A log cannot be used.</exception>
    public Meter In(Meter meter)
    {
        if (meter.Calibrations.All(c => c.ZeroFiles.Count == 0))
        {
            return meter;
        }

        if (!_meters.TryGetValue(meter.Name, out var known))
        {
            _meters.Add(meter.Name, known = meter with { Calibrations = [.. meter.Calibrations.Select(c => WithZero(c, meter))] });
        }

        return known;
    }

    /// <summary>The request to read a calibration's zero readings.</summary>
    public static MeasureRequest Request(Study study, Meter meter, MeterCalibration calibration, SummaryFolder? summaries) => new()
    {
        Paths = [.. calibration.ZeroFiles.Select(f => Path.Combine(study.Folder, f))],
        Names = calibration.ZeroFiles,
        Meter = meter with { Calibrations = [], Limits = new MeterLimits(), Phase = [] },
        Modes = new ModeOptions { Purpose = LogPurpose.Standby },
        Summaries = summaries,
    };

    private MeterCalibration WithZero(MeterCalibration calibration, Meter meter)
    {
        if (calibration.ZeroFiles.Count == 0)
        {
            return calibration;
        }

        var log = LogMeasurer.Measure(Request(study, meter, calibration, summaries));
        _logs.Add(log);
        var mean = log.Result.MeanPower;
        double own = Math.Sqrt(mean.Components.Where(c => c.Source.Owner == SourceOwner.Log)
            .Sum(c => c.Variance));
        List<CalibrationPoint> points = [.. calibration.Points, new CalibrationPoint(0, mean.Value, Math.Max(LeastU, own))];
        return CorrectionCurve.TryFit(points, calibration.Model, calibration.Errors, out string? fault) is { } curve
            ? calibration with { Points = points, Curve = curve }
            : throw new InputException(InputProblem.Unusable,
                $"{calibration.ZeroFiles[0]}: with its zero reading the calibration of meter {meter.Name} gives no correction: {fault}");
    }
}
