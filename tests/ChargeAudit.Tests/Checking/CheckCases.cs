using ChargeAudit.Checking;
using ChargeAudit.Logs;
using ChargeAudit.Metrology.Repeats;
using ChargeAudit.Metrology.Uncertainty;
using ChargeAudit.Studies;

namespace ChargeAudit.Tests.Checking;

/// <summary>Designs of one method with given run energies, all measured with one meter.</summary>
internal static class CheckCases
{
    public static CheckRules EnergyOnly(double margin, double alpha = 0.05) =>
        new() { Margin = margin, Alpha = alpha, Figures = [CheckedFigure.EnergyPerCharge] };

    /// <summary>A design.</summary>
    /// <param name="title">Title, and start of the logs' names.</param>
    /// <param name="energiesWh">Energy of each run. [Wh]</param>
    /// <param name="gain">Relative standard uncertainty of the meter's gain. [1]</param>
    /// <param name="meterShared">Whether another study would meet the same gain.</param>
    public static MeasuredDesign Design(string title, double[] energiesWh, double gain = 0, bool meterShared = true)
    {
        var source = new InfluenceSource("meter:bench/power-gain", Shared: meterShared, Shape: ErrorShape.Rectangular);
        return Design(title,
            [.. energiesWh.Select(e => gain > 0
            ? Measured.From(e, "Wh", [new UncertaintyComponent(source, gain * e)])
            : Measured.Exact(e, "Wh"))]);
    }

    /// <summary>A design.</summary>
    /// <param name="title">Title, and start of the logs' names.</param>
    /// <param name="runs">Energy of each run. [Wh]</param>
    public static MeasuredDesign Design(string title, IReadOnlyList<Measured> runs)
    {
        double[] energiesWh = [.. runs.Select(r => r.Value)];
        var none = Figure.None("not measured");
        return new MeasuredDesign
        {
            Title = title,
            DeviceName = "P",
            BatteryWh = 12,
            Methods =
            [
                new DesignMethod(
                    "pad",
                    MethodKind.Inductive,
                    [.. energiesWh.Select((e, i) => Run($"pad-{i + 1}", $"{title}-{i + 1}", 3000 + (100 * e)))],
                    new Dictionary<MeasuringPoint, DesignPoint>
                    {
                        [MeasuringPoint.Usb] =
                            new(Figure.Of(Repeatability.Combine(runs, InfluenceSource.ScatterOf("pad", "usb")).Mean), none, none),
                    }),
            ],
            LogSha256 = energiesWh.Select((_, i) => $"{title}-{i + 1}").ToHashSet(),
            Sha256 = title,
        };
    }

    public static MeasuredDesign With(this MeasuredDesign design, Func<DesignMethod, DesignMethod> change) =>
        design with { Methods = [.. design.Methods.Select(change)] };

    public static DesignMethod WithRuns(this DesignMethod method, Func<DesignRun, DesignRun> change) =>
        method with { Runs = [.. method.Runs.Select(change)] };

    private static DesignRun Run(string id, string hash, double durationS) => new(id, 5, 100, new Dictionary<MeasuringPoint, DesignRunPoint>
    {
        [MeasuringPoint.Usb] = new(durationS, 1, 10, 0.001, "bench", [$"{hash}.csv"]) { Sha256 = [hash] },
    });
}
