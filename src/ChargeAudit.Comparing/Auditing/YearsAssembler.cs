using ChargeAudit.Comparing.Methods;
using ChargeAudit.Comparing.Procedures;
using ChargeAudit.Comparing.Results;
using ChargeAudit.Comparing.Yearly;
using ChargeAudit.Logs;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Uncertainty;
using ChargeAudit.Studies;

namespace ChargeAudit.Comparing.Auditing;

/// <summary>The years of all methods beside each other, and published limits beside their figures.</summary>
internal static class YearsAssembler
{
    /// <summary>Each method's year against the reference's, which comes first.</summary>
    public static IReadOnlyList<YearComparison> Differences(IReadOnlyList<MethodResult> methods) =>
        [.. methods.Skip(1).Select(m => new YearComparison(methods[0].Name, m.Name, YearDifference.Of(methods[0].Yearly, m.Yearly)))];

    /// <summary>When a charger that has a price pays for itself.</summary>
    public static IReadOnlyList<Payback> Paybacks(Study study, IReadOnlyList<MethodResult> methods) =>
        StudyYear.Paybacks([.. methods.Select(m => (study.Methods.First(s => s.Name == m.Name), m.Yearly))]);

    /// <summary>The European limits beside each method, as they stand today.</summary>
    /// <param name="study">The study.</param>
    /// <param name="methods">Its methods.</param>
    /// <param name="curves">Loss curves of the adapters that were measured on both sides.</param>
    /// <param name="clock">The clock that tells today's date.</param>
    public static IReadOnlyList<MethodYardsticks> Yardsticks(
        Study study, IReadOnlyList<MethodResult> methods, IReadOnlyList<AdapterCurveResult> curves, TimeProvider clock)
    {
        var today = DateOnly.FromDateTime(clock.GetLocalNow().Date);
        AdapterInfo? AdapterOf(string method) => study.Methods.First(s => s.Name == method).Adapter ?? study.Adapter;
        return
        [
            .. methods.Select(m =>
            {
                var adapter = AdapterOf(m.Name);

                // Methods that name the same adapter share what was measured of it; their own runs go first.
                var own = curves.Where(c => ReferenceEquals(AdapterOf(c.Method), adapter)).OrderBy(c => c.Method == m.Name ? 0 : 1)
                    .ToList();
                return new MethodYardsticks(m.Name,
                    EuYardsticks.Of(m.Kind, m.Points.GetValueOrDefault(MeasuringPoint.Wall), m.Points.GetValueOrDefault(MeasuringPoint.Usb),
                    adapter, AverageOf(own), today));
            }),
        ];
    }

    /// <summary>The mean efficiency at the four loads, from the first curve that covers them.</summary>
    private static Figure AverageOf(List<AdapterCurveResult> curves)
    {
        if (curves.Find(c => c.Average.Value is not null) is { } curve)
        {
            return curve.Average with
            {
                Assumed =
                    Prose.Of(
                        $"the loss curve fitted to the runs of {curve.Method} at {curve.OutV:F1} V, not on a test of the four loads"),
            };
        }

        const string Needed = "the adapter's efficiency was not measured at 25, 50, 75 and 100 % of its nameplate output";
        return Figure.None(curves.Count == 0
            ? Needed
            : Prose.Of($"{Needed}: the loads seen end at {curves.Max(c => c.GreatestOutW):G3} W"));
    }
}
