using System.Text;
using ChargeAudit.Comparing.Methods;
using ChargeAudit.Comparing.Results;
using ChargeAudit.Comparing.Runs;
using ChargeAudit.Logs;
using ChargeAudit.Logs.Sources;
using ChargeAudit.Metrology;

namespace ChargeAudit.Checking;

/// <summary>The design that an audit has just measured.</summary>
public static class AuditDesign
{
    /// <summary>Reduces an audit to what a check compares.</summary>
    /// <param name="result">The audit.</param>
    public static MeasuredDesign Of(AuditResult result)
    {
        ArgumentNullException.ThrowIfNull(result);
        var hashes = result.Logs.SelectMany(l => l.Sha256).ToHashSet(StringComparer.Ordinal);
        return new MeasuredDesign
        {
            Title = result.Study.Title,
            DeviceName = result.Study.Device.Name,
            BatteryWh = result.Study.Device.BatteryWh,
            Reference = result.Study.Reference,
            Methods = [.. result.Methods.Select(m => Method(result, m))],
            LogSha256 = hashes,
            Sha256 = HashOf(hashes),
        };
    }

    /// <summary>Hash of a set of hashes; the order does not matter.</summary>
    internal static string HashOf(IEnumerable<string> hashes) =>
        FileHash.Sha256(Encoding.ASCII.GetBytes(string.Join('\n', hashes.Order(StringComparer.Ordinal))));

    private static DesignMethod Method(AuditResult result, MethodResult method)
    {
        var users = result.Methods.SelectMany(m => m.Runs).SelectMany(r => r.Points.Values)
            .GroupBy(p => p.Log.Files[0], StringComparer.Ordinal).ToDictionary(g => g.Key, g => g.Count(), StringComparer.Ordinal);
        var runs = method.Runs.Where(r => r.Excluded is null).Select(r => new DesignRun(
            r.Id,
            r.StartChargePercent,
            r.EndChargePercent,
            r.Points.ToDictionary(p => p.Key, p => Point(p.Value, users[p.Value.Log.Files[0]] == 1)))
        { Factors = r.Factors, Block = r.Block });
        var points = method.Points.Where(p => p.Value.EnergyPerCharge.Assumed is null).ToDictionary(
            p => p.Key,
            p => new DesignPoint(p.Value.EnergyPerCharge, p.Value.NoLoadPower, p.Value.MaintenancePower)
            {
                StandbySha256 = StandbyOf(result, method.Name, p.Key),
            });
        return new DesignMethod(method.Name, method.Kind, [.. runs], points);
    }

    private static DesignRunPoint Point(RunPointResult seen, bool alone) => new(
        seen.Charge.DurationS,
        seen.Log.Layout.MedianIntervalS,
        alone ? seen.Log.PeakPowerW : null,
        seen.Log.Layout.Resolution.TryGetValue(LogQuantity.Power, out double step) ? step : null,
        seen.Meter,
        seen.Log.Files)
    {
        Sha256 = seen.Log.Sha256,
    };

    private static List<string> StandbyOf(AuditResult result, string method, MeasuringPoint point)
    {
        var files = result.Study.Standby.Where(s => s.Method == method && s.Logs.ContainsKey(point))
            .Select(s => s.Logs[point].Files[0]).ToHashSet(StringComparer.Ordinal);
        return [.. result.Logs.Where(l => l.Point == point && files.Contains(l.Files[0])).SelectMany(l => l.Sha256)];
    }
}
