using ChargeAudit.Checking;
using ChargeAudit.Comparing.Yearly;
using ChargeAudit.Logs;
using ChargeAudit.Metrology.Uncertainty;
using ChargeAudit.Pooling.Audits;
using ChargeAudit.Pooling.Results;
using ChargeAudit.Studies;

namespace ChargeAudit.Pooling;

/// <summary>Takes the figures that are pooled out of an audit.</summary>
/// <param name="point">The one measuring point.</param>
/// <param name="use">The one use that years are worked out for.</param>
/// <param name="tariff">The one tariff; null: no cost.</param>
/// <param name="namesAreInstruments">Whether meters of one name without a key count as one.</param>
internal sealed class RowMaker(MeasuringPoint point, Use use, PreparedTariff? tariff, bool namesAreInstruments)
{
    private const string NoYear = "a year is worked out at the wall only";

    /// <summary>A row for each method but the reference.</summary>
    public IEnumerable<PoolRow> Of(PooledAudit audit)
    {
        var sources = new SharedSources(audit, point, namesAreInstruments);
        var reference = audit.Design.Methods.First(m => m.Name == audit.Reference);
        var below = At(reference, sources);
        foreach (var method in audit.Design.Methods.Where(m => m.Name != audit.Reference && m.Points.ContainsKey(point)))
        {
            var at = At(method, sources);
            var (year, cost) = Year(method, at);
            var (yearBelow, costBelow) = Year(reference, below);
            yield return new PoolRow(audit, method.Name, audit.Chargers.GetValueOrDefault(method.Name, method.Name),
                new Dictionary<PoolFigure, Figure>
                {
                    [PoolFigure.OverheadRatio] =
                        Both(at.EnergyPerCharge, below.EnergyPerCharge, (a, b) => Logarithm(Measured.Quotient(a, b))),
                    [PoolFigure.EnergyPerCharge] = at.EnergyPerCharge.Value is { } energy ? Logarithm(energy) : at.EnergyPerCharge,
                    [PoolFigure.NoLoadPower] = at.NoLoadPower,
                    [PoolFigure.MaintenancePower] = at.MaintenancePower,
                    [PoolFigure.YearEnergy] = year,
                    [PoolFigure.ExtraYearEnergy] = Both(year, yearBelow, (a, b) => Figure.Of(a - b)),
                    [PoolFigure.ExtraYearCost] = Both(cost, costBelow, (a, b) => Figure.Of(a - b)),
                });
        }
    }

    private DesignPoint At(DesignMethod method, SharedSources sources)
    {
        Figure Named(Figure figure) => figure.Value is { } value ? figure with { Value = sources.Of(value) } : figure;
        return method.Points.TryGetValue(point, out var at)
            ? new DesignPoint(Named(at.EnergyPerCharge), Named(at.NoLoadPower), Named(at.MaintenancePower))
            : new DesignPoint(Missing(method), Missing(method), Missing(method));
    }

    private Figure Missing(DesignMethod method) => Figure.None($"{method.Name} was not measured {PlainWords.At(point)}");

    private (Figure Energy, Figure Cost) Year(DesignMethod method, DesignPoint at)
    {
        var runs = method.Runs.Where(r => r.Points.ContainsKey(point)).ToList();
        if (point != MeasuringPoint.Wall || runs.Count == 0)
        {
            var none = Figure.None(runs.Count == 0 ? Missing(method).WhyNot! : NoYear);
            return (none, none);
        }

        var year = YearlyEnergy.Of(new YearInput
        {
            EnergyPerCharge = at.EnergyPerCharge,
            ChargeDurationS = runs.Average(r => r.Points[point].ChargeDurationS),
            MaintenancePower = at.MaintenancePower,
            NoLoadPower = at.NoLoadPower,
            Use = UseProfile.Of(use),
            Tariff = tariff,
            Draws = 0,
        });
        return (year.Energy, year.Cost);
    }

    private static Figure Both(Figure a, Figure b, Func<Measured, Measured, Figure> of) =>
        a.Value is { } first && b.Value is { } second ? of(first, second) : a.Value is null ? a : b;

    private static Figure Logarithm(Measured m) => m.Value > 0
        ? Figure.Of(Measured.Combine(Math.Log(m.Value), "1", (1 / m.Value, m)))
        : Figure.None("it is not above zero, so it has no logarithm");
}
