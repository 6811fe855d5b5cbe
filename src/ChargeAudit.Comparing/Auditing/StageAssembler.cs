using ChargeAudit.Comparing.Losses;
using ChargeAudit.Comparing.Methods;
using ChargeAudit.Comparing.Results;
using ChargeAudit.Comparing.Runs;
using ChargeAudit.Logs;
using ChargeAudit.Metrology.Repeats;
using ChargeAudit.Metrology.Uncertainty;
using ChargeAudit.Studies;

namespace ChargeAudit.Comparing.Auditing;

/// <summary>From each measured point of a method to the next one downstream: what comes through and what is lost, per charge.</summary>
internal static class StageAssembler
{
    public static IEnumerable<StageResult> Of(MethodResult method)
    {
        var runs = method.Runs.Where(r => r.Excluded is null).ToList();
        var points = Enum.GetValues<MeasuringPoint>().Where(p => runs.Any(r => r.Points.ContainsKey(p))).ToList();
        for (int i = 0; i + 1 < points.Count; i++)
        {
            var (from, to) = (points[i], points[i + 1]);
            var both = runs.Where(r => r.Points.ContainsKey(from) && r.Points.ContainsKey(to)).ToList();
            if (both.Count == 0)
            {
                string why = $"no run of {method.Name} was measured both {PlainWords.At(from)} and {PlainWords.At(to)}";
                yield return new StageResult(method.Name, from, to, Figure.None(why), Figure.None(why));
                continue;
            }

            // Each run gives its own quotient and difference, so what varies from run to run and affects both points cancels before it is
            // averaged.
            string stage = $"{StudyWords.Of(from)}-to-{StudyWords.Of(to)}";
            var quotients = both.Select(r => Measured.Quotient(r.Points[to].Energy, r.Points[from].Energy)).ToList();
            var losses = both.Select(r => r.Points[from].Energy - r.Points[to].Energy).ToList();
            yield return new StageResult(
                method.Name, from, to,
                Figure.Of(Repeatability.Combine(quotients, InfluenceSource.ScatterOf(method.Name, stage + "-efficiency"),
                    RunBlocks.Of(both)).Mean),
                Figure.Of(Repeatability.Combine(losses, InfluenceSource.ScatterOf(method.Name, stage + "-loss"),
                    RunBlocks.Of(both)).Mean))
            {
                Check = EfficiencyCheck.Of(Mean(both, from), Mean(both, to), both.TrueForAll(r => r.Clocks.All(c => c.Applied))
                    ? ClocksState.Aligned
                    : ClocksState.NotAligned),
            };
        }
    }

    private static Measured Mean(List<RunResult> runs, MeasuringPoint point) => Measured.Combine(
        runs.Average(r => r.Points[point].Energy.Value), "Wh", runs.Select(r => (1.0 / runs.Count, r.Points[point].Energy)));
}
