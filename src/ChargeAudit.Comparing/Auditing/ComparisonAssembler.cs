using ChargeAudit.Comparing.Methods;
using ChargeAudit.Comparing.Results;
using ChargeAudit.Logs;
using ChargeAudit.Metrology.Repeats;
using ChargeAudit.Metrology.Uncertainty;
using ChargeAudit.Studies;

namespace ChargeAudit.Comparing.Auditing;

/// <summary>Each method beside the reference, at each point where both were measured.</summary>
internal static class ComparisonAssembler
{
    public static IEnumerable<ComparisonResult> Of(MethodResult reference, MethodResult method, EndRules endRules)
    {
        foreach (var point in Enum.GetValues<MeasuringPoint>())
        {
            if (!reference.Points.TryGetValue(point, out var basis) || !method.Points.TryGetValue(point, out var own)
                || basis.EnergyPerCharge.Value is not { } a || own.EnergyPerCharge.Value is not { } b)
            {
                continue;
            }

            string? assumed = Figure.Joined(own.EnergyPerCharge.Assumed, basis.EnergyPerCharge.Assumed);
            var rules = endRules.Of(reference, method, point);
            yield return new ComparisonResult(
                reference.Name,
                method.Name,
                point,
                a.Value > 0
                    ? Figure.Of(RatioOfMeans.Compare(b.Plus(EndRules.Spread(rules, b, method.Name, point)), a).Ratio, assumed)
                    : Figure.None($"{reference.Name} used no energy {PlainWords.At(point)}"),
                Figure.Of(b - a, assumed),
                ExtraCost(reference, method, point))
            {
                EndRules = rules,
            };
        }
    }

    private static Figure ExtraCost(MethodResult reference, MethodResult method, MeasuringPoint point)
    {
        if (point != MeasuringPoint.Wall)
        {
            return Figure.None("a bill is paid at the wall");
        }

        var (own, basis) = (method.Yearly.Cost, reference.Yearly.Cost);
        return own.Value is { } b && basis.Value is { } a
            ? new Figure(b - a, null, Figure.Joined(own.Assumed, basis.Assumed))
            : Figure.None((own.Value is null ? own.WhyNot : basis.WhyNot)!);
    }
}
