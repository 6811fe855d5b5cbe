using ChargeAudit.Checking.Documents;
using ChargeAudit.Metrology;
using ChargeAudit.Pooling.Results;

namespace ChargeAudit.Reports.Json;

/// <summary>Many audits as one answer, in JSON.</summary>
public static class PooledJson
{
    private const string FewDevices = "too few devices would be left";

    /// <summary>The document; it ends with a line feed.</summary>
    /// <param name="pool">The pool.</param>
    public static string Of(PoolResult pool)
    {
        ArgumentNullException.ThrowIfNull(pool);
        return ReportContext.Text(new PooledDocument(
            SchemaNames.Pool,
            pool.Title,
            StableName.Of(pool.Point),
            pool.Year,
            [.. pool.Figures.Select(Figure)],
            [.. pool.AsOneInstrument.Select(Figure)],
            pool.Ranking is { } ranking ? Ranking(ranking) : null,
            Known.Unless(pool.Ranking, pool.NoRanking),
            [
                .. pool.Factors.Select(f =>
                    new PooledFactorDocument(f.Factor, f.Level, f.Base, Value(f.Ratio, "1"), f.DegreesOfFreedom, f.Audits)),
            ],
            pool.NoRegression,
            pool.Apart,
            pool.Doubts,
            [.. pool.Audits.Select(a => new PooledAuditDocument(a.File, a.Design.Sha256, a.Device, a.Reference, a.Instruments))]));
    }

    private static PooledFigureDocument Figure(PooledFigure f) => new(
        StableName.Of(f.Figure),
        f.Charger,
        PoolRow.AsLogarithm(f.Figure),
        [.. f.Devices.Select(d => Device(f, d))],
        f.Answer is { } answer ? Answer(answer, f.Unit) : null,
        Known.Unless(f.Answer, f.WhyNot),
        f.Missing);

    private static PooledDeviceDocument Device(PooledFigure f, PooledDevice d) => new(
        d.Name,
        d.Audits,
        Value(d.Own, f.Unit),
        Known.Finite(d.Weight),
        Known.Unless(d.Weight, f.WhyNot ?? "not known"),
        d.MeanWithout is { } without ? Value(without, f.Unit) : null,
        Known.Unless(d.MeanWithout, FewDevices),
        Known.Finite(d.Influence),
        Known.Unless(d.Influence, FewDevices));

    private static PooledAnswerDocument Answer(PooledAnswer answer, string unit) => new(
        Value(answer.Mean, unit),
        answer.MeanU,
        answer.MeanDegreesOfFreedom,
        new(
            answer.Spread.Reml,
            answer.Spread.PauleMandel,
            answer.Spread.Low,
            Known.Finite(answer.Spread.High),
            answer.Spread.Q,
            answer.Spread.DegreesOfFreedom),
        Value(answer.AnotherDevice, unit),
        Value(answer.NextMeasurement, unit),
        [.. answer.Shares.Select(s => new PooledShareDocument(s.What, s.Share, s.SharedByAll))]);

    private static PooledRankingDocument Ranking(ChargerRanking ranking) => new(
        [.. ranking.Chargers.Select(c => new RankedChargerDocument(c.Name, Value(c.Ratio, "1"), c.Best, c.FirstThree))],
        [.. ranking.Devices.Select(d => new RankedDeviceDocument(d.Name, d.Factor))],
        [.. ranking.Cells.Select(c => new RankedCellDocument(c.Device, c.Charger, Value(c.Ratio, "1"), c.Audits))],
        [.. ranking.Pairs.Select(p => new RankedPairDocument(p.First, p.Second, Value(p.Ratio, "1"), p.P, p.ToldApart))],
        ranking.DeviceSpread,
        ranking.InteractionSpread,
        Known.Finite(ranking.AuditSpread),
        Known.Unless(ranking.AuditSpread, "no device was audited twice on one charger"),
        ranking.DegreesOfFreedom);

    private static PooledValueDocument Value(PooledValue value, string unit) =>
        new(value.Value, unit, Known.Finite(value.Low), Known.Finite(value.High), 0.95);
}
