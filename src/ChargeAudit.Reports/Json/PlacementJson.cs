using ChargeAudit.Checking.Documents;
using ChargeAudit.Comparing.Placement;
using ChargeAudit.Metrology;
using ChargeAudit.Studies;

namespace ChargeAudit.Reports.Json;

/// <summary>What the place of the device changes, in JSON. Only where a study gives factors.</summary>
internal static class PlacementJson
{
    private const string TooFewRuns = "too few runs for an interval";

    /// <summary>The factors of a run.</summary>
    public static FactorsDocument Factors(RunFactors factors)
    {
        double? Set(Factor factor) => factors.Has(factor) ? Known.Finite(factors.Of(factor)) : null;
        return new(
            Set(Factor.OffsetX),
            Set(Factor.OffsetY),
            Set(Factor.Gap),
            Set(Factor.Rotation),
            Set(Factor.PowerLevel),
            Set(Factor.Temperature),
            factors.Case);
    }

    /// <summary>The finding.</summary>
    public static PlacementDocument Of(PlacementResult placement) => new(
        placement.Rise,
        [.. placement.Methods.Select(Method)],
        [
            .. placement.Differences.Select(d => new PlacementDifferenceDocument(
                d.First,
                d.Second,
                [
                    .. d.Positions.Select(p => new PositionDifferenceDocument(
                        p.XMm,
                        p.YMm,
                        p.First.Json(),
                        p.First.Why(),
                        p.Second.Json(),
                        p.Second.Why(),
                        p.Difference.Json(),
                        p.Difference.Why())),
                ],
                d.WhyNone)),
        ]);

    private static MethodPlacementDocument Method(MethodPlacement m) => new(
        m.Method,
        m.Figure.To is null ? "energy-per-charge" : "efficiency",
        StableName.Of(m.Figure.From),
        m.Figure.To is { } to ? StableName.Of(to) : null,
        Known.Unless(m.Figure.To, "only the input was measured"),
        [.. m.Runs.Select(r => r.Id)],
        [
            .. m.Positions.Select(p => new PositionDocument(
                p.XMm,
                p.YMm,
                p.Runs,
                p.Shown.Json(),
                p.Shown.Why(),
                p.ToBest?.Json(),
                p.ToBest is { } best ? best.Why() : "this is the best position measured",
                p.ToReference?.Json(),
                p.ToReference is { } wired ? wired.Why() : "no reference by cable was measured alike")),
        ],
        [.. (m.Map?.Hull ?? []).Select(corner => new[] { corner.XMm, corner.YMm })],
        m.WhyNoMap,
        [.. m.Responses.Select(Response)],
        m.Tolerance is { } tolerance ? Tolerance(tolerance, m.Method) : null,
        Known.Unless(m.Tolerance, "no offset was given two values"),
        m.Model is { } model ? Model(model) : null,
        Known.Unless(m.Model, m.WhyNoModel),
        m.Notes);

    private static ResponseDocument Response(ResponseCurve r) => new(
        StableName.Of(r.Factor),
        RunFactors.UnitOf(r.Factor),
        [
            .. r.Levels.Select(l => new LevelDocument(
                l.Name,
                Known.Finite(l.Value),
                Known.Unless(l.Value, "a case has a name and no value"),
                l.Runs,
                l.Shown.Json(),
                l.Shown.Why())),
        ],
        r.Order,
        r.Caution,
        Known.Unless(r.Caution, "no other factor changed along with it"));

    private static ToleranceDocument Tolerance(PositionTolerance t, string method) => new(
        t.Rise,
        Known.Finite(t.BestXMm),
        Known.Unless(t.BestXMm, t.WhyNot ?? "offset-x was not varied"),
        Known.Finite(t.BestYMm),
        Known.Unless(t.BestYMm, t.WhyNot ?? "offset-y was not varied"),
        t.Fitted,
        Known.Finite(t.OffsetMm),
        Known.Unless(t.OffsetMm, t.WhyNot ?? "not reached within the measured offsets"),
        Known.Finite(t.LowMm),
        Known.Unless(t.LowMm, t.WhyNot ?? TooFewRuns),
        Known.Finite(t.HighMm),
        Known.Unless(t.HighMm, t.LowMm is null ? t.WhyNot ?? TooFewRuns : "beyond the measured offsets"),
        t.MeasuredToMm,
        t.Sentence(method));

    private static ModelDocument Model(PlacementModel model) => new(
        model.Unit,
        [
            .. model.Terms.Select(t => new ModelTermDocument(
                t.Id,
                t.Coefficient.Json(),
                t.Coefficient.Why(),
                Known.Finite(t.Scatter),
                Known.Unless(t.Scatter, "as many coefficients as runs"),
                Known.Finite(t.SharedMeasurement),
                Known.Unless(t.SharedMeasurement, "not known"))),
        ],
        model.Runs,
        model.DegreesOfFreedom,
        Known.Finite(model.ResidualScatter),
        Known.Unless(model.ResidualScatter, "as many coefficients as runs"),
        Known.Finite(model.RSquared),
        Known.Finite(model.ConditionNumber),
        model.LackOfFit is { } lack
            ? new(Known.Finite(lack.F), lack.ModelFreedom, lack.RepeatFreedom, Known.Finite(lack.Probability))
            : null,
        Known.Unless(model.LackOfFit, "no setting was repeated, or the model has as many coefficients as there are settings"),
        model.Notes);
}
