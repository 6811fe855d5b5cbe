using ChargeAudit.Analysis.Procedures;
using ChargeAudit.Analysis.Results;
using ChargeAudit.Analysis.Studies;
using ChargeAudit.Analysis.Yearly;
using ChargeAudit.Logs;

namespace ChargeAudit.Analysis.Auditing;

/// <summary>The years of all methods beside each other, and published limits beside their figures.</summary>
internal static class YearsAssembler
{
    /// <summary>Each method's year against the reference's, which stands first.</summary>
    public static IReadOnlyList<YearComparison> Differences(IReadOnlyList<MethodResult> methods) =>
        [.. methods.Skip(1).Select(m => new YearComparison(methods[0].Name, m.Name, YearDifference.Of(methods[0].Yearly, m.Yearly)))];

    /// <summary>When a charger that has a price pays.</summary>
    public static IReadOnlyList<Payback> Paybacks(Study study, IReadOnlyList<MethodResult> methods) =>
        StudyYear.Paybacks([.. methods.Select(m => (study.Methods.First(s => s.Name == m.Name), m.Yearly))]);

    /// <summary>The European limits beside each method, as they stand today.</summary>
    public static IReadOnlyList<MethodYardsticks> Yardsticks(Study study, IReadOnlyList<MethodResult> methods, TimeProvider clock)
    {
        var today = DateOnly.FromDateTime(clock.GetLocalNow().Date);
        var average = Figure.None("the adapter's efficiency was not measured at 25, 50, 75 and 100 % of its nameplate output");
        return
        [
            .. methods.Select(m => new MethodYardsticks(
                m.Name,
                EuYardsticks.Of(m.Kind, m.Points.GetValueOrDefault(MeasuringPoint.Wall), study.Methods.First(s => s.Name == m.Name).Adapter ?? study.Adapter, average, today))),
        ];
    }
}
