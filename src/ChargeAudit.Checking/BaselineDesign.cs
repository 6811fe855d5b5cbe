using ChargeAudit.Checking.Documents;
using ChargeAudit.Logs;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Uncertainty;
using ChargeAudit.Studies;

namespace ChargeAudit.Checking;

/// <summary>The design that a document describes.</summary>
internal static class BaselineDesign
{
    /// <summary>More degrees of freedom than any result has; beyond it they count as infinite. [1]</summary>
    private const double MostFreedom = 1e9;

    /// <summary>Reduces a document to what a check compares.</summary>
    /// <param name="document">The document.</param>
    /// <param name="sha256">Hash of its file.</param>
    /// <exception cref="FormatException">A word in it means nothing.</exception>
    /// <exception cref="InvalidOperationException">It lacks something.</exception>
    public static MeasuredDesign Of(AuditDocument document, string sha256)
    {
        var logs = document.Logs.ToLookup(l => l.File, StringComparer.Ordinal);
        var users = document.Methods.SelectMany(m => m.Runs).SelectMany(r => r.Points.Values)
            .ToLookup(p => p.Files[0], StringComparer.Ordinal);
        return new MeasuredDesign
        {
            Title = document.Title,
            DeviceName = document.Device.Name,
            BatteryWh = document.Device.BatteryWh,
            Reference = document.Reference,
            Methods =
            [
                .. document.Methods.Select(m => new DesignMethod(
                    m.Name,
                    Member<MethodKind>(m.Kind),
                    [.. m.Runs.Where(r => !r.Excluded).Select(r => Run(r, logs, users))],
                    Points(m.Points))),
            ],
            LogSha256 = document.Provenance.Logs.Select(l => l.Sha256).ToHashSet(StringComparer.Ordinal),
            Sha256 = sha256,
        };
    }

    private static DesignRun Run(RunDocument run, ILookup<string, LogDocument> logs, ILookup<string, RunPointDocument> users) => new(
        run.Id,
        run.StartChargePercent,
        run.EndChargePercent,
        run.Points.ToDictionary(p => Member<MeasuringPoint>(p.Key),
            p => RunPoint(p.Value, logs[p.Value.Files[0]].First(), users[p.Value.Files[0]].Count() == 1)))
    {
        Block = run.Block,
        Factors = run.Factors is { } factors ? Factors(factors) : RunFactors.None,
    };

    private static DesignRunPoint RunPoint(RunPointDocument seen, LogDocument log, bool alone) => new(
        Needed(seen.Charge.End) - Needed(seen.Charge.Start),
        Needed(log.Sampling.MedianInterval),
        alone ? Needed(log.PeakPower?.Value) : null,
        log.Resolution.TryGetValue(StableName.Of(LogQuantity.Power), out var step) ? Needed(step) : null,
        seen.Meter,
        seen.Files)
    {
        Sha256 = [.. log.Files.Select(f => f.Sha256)],
    };

    private static RunFactors Factors(FactorsDocument f)
    {
        (Factor Factor, double? Value)[] set =
        [
            (Factor.OffsetX, f.OffsetXMm), (Factor.OffsetY, f.OffsetYMm), (Factor.Gap, f.GapMm),
            (Factor.Rotation, f.RotationDeg), (Factor.PowerLevel, f.PowerLevelW), (Factor.Temperature, f.TemperatureC),
        ];
        return new(set.Where(s => s.Value is not null).ToDictionary(s => s.Factor, s => s.Value!.Value), f.Case);
    }

    private static Dictionary<MeasuringPoint, DesignPoint> Points(MethodPointsDocument points)
    {
        (MeasuringPoint Point, PointDocument? At)[] all =
        [
            (MeasuringPoint.Wall, points.Wall), (MeasuringPoint.Usb, points.Usb), (MeasuringPoint.Device, points.Device),
                (MeasuringPoint.Battery, points.Battery),
        ];
        return all.Where(p => p.At is { EnergyPerCharge: not { Assumed: not null } }).ToDictionary(p => p.Point, p => new DesignPoint(
            Figure(p.At!.EnergyPerCharge, p.At.EnergyPerChargeReason),
            Figure(p.At.NoLoadPower, p.At.NoLoadPowerReason),
            Figure(p.At.MaintenancePower, p.At.MaintenancePowerReason)));
    }

    private static Figure Figure(MeasuredDocument? figure, string? reason) => figure is null
        ? Metrology.Uncertainty.Figure.None(reason ?? throw new FormatException("a figure is missing without a reason"))
        : Metrology.Uncertainty.Figure.Of(
            Measured.From(figure.Value, figure.Unit, figure.Components.Select(Component), figure.UReason), figure.Assumed);

    private static UncertaintyComponent Component(ComponentDocument c) => new(
        new InfluenceSource(c.Part, c.Dof is <= 0 or > MostFreedom
            ? throw new FormatException("degrees of freedom lie above zero and below a billion") : c.Dof
            ?? double.PositiveInfinity, c.Shared, Member<ErrorShape>(c.Shape))
        {
            Owner = Owner(c.Owner),
            OwnerName = c.OwnerName,
            Kind = Member<SourceKind>(c.Kind),
        },
        c.U is < 0 ? throw new FormatException("an uncertainty is not below zero") : Needed(c.U));

    private static SourceOwner Owner(string? word)
    {
        foreach (var owner in Enum.GetValues<SourceOwner>())
        {
            if (InfluenceSource.Word(owner) == word)
            {
                return owner;
            }
        }

        throw new FormatException($"{word} is no owner of a source of uncertainty");
    }

    private static T Member<T>(string word)
        where T : struct, Enum
    {
        foreach (var value in Enum.GetValues<T>())
        {
            if (word == StableName.Of(value))
            {
                return value;
            }
        }

        throw new FormatException($"{word} is no {typeof(T).Name}");
    }

    private static double Needed(double? number) => number ?? throw new FormatException("a number is missing");
}
