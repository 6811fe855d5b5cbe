using ChargeAudit.Checking;
using ChargeAudit.Logs;
using ChargeAudit.Metrology.Repeats;
using ChargeAudit.Metrology.Uncertainty;
using ChargeAudit.Pooling.Audits;
using ChargeAudit.Studies;

namespace ChargeAudit.Tests.Pooling;

/// <summary>Audits made of run energies.</summary>
internal static class PoolCases
{
    /// <summary>An audit at the wall.</summary>
    /// <param name="device">The device; also marks its logs.</param>
    /// <param name="cableWh">Energies of the reference's runs. [Wh]</param>
    /// <param name="pads">Energies of the runs with each charger. [Wh]</param>
    /// <param name="meter">Name of the meter.</param>
    /// <param name="gain">Relative standard uncertainty of its gain. [1]</param>
    /// <param name="instrument">Its key; null: none.</param>
    /// <param name="referenceLogs">Mark of the reference's logs; null: the audit's own.</param>
    public static PooledAudit Audit(
        string device, double[] cableWh, IReadOnlyDictionary<string, double[]> pads, string meter = "plug", double gain = 0,
            string? instrument = null, string? referenceLogs = null)
    {
        var methods = pads.Select(p => Method(device, p.Key, MethodKind.Inductive, p.Value, meter, gain, $"{device}-{p.Key}"))
            .Prepend(Method(device, "cable", MethodKind.Wired, cableWh, meter, gain, referenceLogs ?? $"{device}-cable")).ToList();
        var hashes = methods.SelectMany(m => m.Runs).SelectMany(r => r.Points.Values).SelectMany(p => p.Sha256).ToHashSet();
        return new PooledAudit($"{device}/results.json",
            new MeasuredDesign
            {
                Title = device,
                DeviceName = device,
                Methods = methods,
                LogSha256 = hashes,
                Sha256 = $"results of {device} {string.Join(' ', hashes)}"
            }, "cable")
        {
            Device = device,
            Mark = $"study of {device} {string.Join(' ', pads.Keys)}",
            Instruments = instrument is null ? new Dictionary<string, string>() : new Dictionary<string, string> { [meter] = instrument },
        };
    }

    public static Dictionary<string, double[]> OnPad(params double[] energiesWh) => new() { ["pad"] = energiesWh };

    private static DesignMethod Method(string device, string name, MethodKind kind, double[] energiesWh, string meter, double gain,
        string logs)
    {
        var source = InfluenceSource.OfMeter(meter, SourceKind.MeterGain, "power-gain", ErrorShape.Rectangular);
        var runs = energiesWh.Select(e => Measured.From(e, "Wh", gain > 0 ? [new UncertaintyComponent(source, gain * e)] : [])).ToList();
        var figure = Figure.Of(Repeatability.Combine(runs, InfluenceSource.ScatterOf(name, "wall")).Mean);
        var none = Figure.None("there was no log of it");
        return new DesignMethod(
            name,
            kind,
            [.. energiesWh.Select((_, i) => new DesignRun($"{name}-{i + 1}", 5, 100, new Dictionary<MeasuringPoint, DesignRunPoint>
            {
                [MeasuringPoint.Wall] = new(7200, 1, null, null, meter, [$"{logs}-{i + 1}.csv"]) { Sha256 = [$"{logs}-{i + 1}"] },
            }))],
            new Dictionary<MeasuringPoint, DesignPoint> { [MeasuringPoint.Wall] = new(figure, none, none) });
    }
}
