using ChargeAudit.LogMaker.Chargers;
using ChargeAudit.LogMaker.Meters;

namespace ChargeAudit.LogMaker.Studies;

/// <summary>Gathers the files of a study.</summary>
/// <param name="dice">The dice.</param>
/// <param name="elapsed">Whether times are elapsed seconds instead of dates.</param>
public sealed class StudyFiles(Dice dice, bool elapsed)
{
    private static readonly DateTimeOffset FirstDay = new(2031, 3, 5, 18, 0, 0, TimeSpan.Zero);
    private readonly Dictionary<string, string> _files = [];
    private readonly List<(string, IReadOnlyList<(MeterSheet, string)>)> _runs = [];
    private readonly List<(string, IReadOnlyList<(MeterSheet, string)>)> _standby = [];

    /// <summary>The charge of each log.</summary>
    public List<TrueCharge> Charges { get; } = [];

    /// <summary>Logs of one charge. A counter that stands beside the power may have lost rows in its middle.</summary>
    public void AddRun(Charger charger, int run, Course course, IReadOnlyList<MeterSheet> meters) =>
        _runs.Add((charger.Name, Written($"{charger.Name}-{run}", charger, course, meters, lossy: run == 1)));

    /// <summary>Logs of nothing but waiting.</summary>
    public void AddStandby(Charger charger, Course course, IReadOnlyList<MeterSheet> meters) =>
        _standby.Add((charger.Name, Written($"{charger.Name}-waiting", charger, course, meters, lossy: false)));

    /// <summary>All files, the study's own among them.</summary>
    public IReadOnlyDictionary<string, string> With(IEnumerable<MeterSheet> meters, UseOfIt use)
    {
        _files["study.toml"] = Toml.Of(meters, _runs, _standby, use);
        return _files;
    }

    private List<(MeterSheet, string)> Written(string name, Charger charger, Course course, IReadOnlyList<MeterSheet> meters, bool lossy)
    {
        DateTimeOffset start = FirstDay.AddDays(_runs.Count + (10 * _standby.Count));
        List<(MeterSheet, string)> logs = [];
        foreach (MeterSheet meter in meters)
        {
            (double, double) gap = default;
            if (lossy && meter.CounterStepWh > 0 && meter.Kind != RowKind.CounterOnly && dice.Chance(0.3))
            {
                double from = course.StartS + ((course.EndS - course.StartS) * dice.Between(0.2, 0.7));
                gap = (from, from + Math.Max(10 * meter.IntervalS, (course.EndS - course.StartS) * dice.Between(0.02, 0.1)));
            }

            string file = $"{name}-{(meter.Place == Place.Wall ? "wall" : "usb")}.csv";
            IReadOnlyList<LogRow> rows = Logging.Of(course, meter, dice, gap);
            _files[file] = CsvText.Of(rows, meter, elapsed ? null : start);
            if (course.EndS > course.StartS && rows.Count > 0)
            {
                double Shown(double courseS) => courseS + meter.AheadS - rows[0].TimeS;
                Charges.Add(new TrueCharge(
                    file, Shown(course.StartS), Shown(course.EndS), Shown(course.RemovedS), course.EnergyWh(meter.Place),
                        charger.MaintenanceW(meter.Place) * course.MaintenanceFactor, charger.NoLoadW(meter.Place)));
            }

            logs.Add((meter, file));
        }

        return logs;
    }
}
