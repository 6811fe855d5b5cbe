using ChargeAudit.Comparing.Results;
using ChargeAudit.Reports.Charts;
using ChargeAudit.Reports.Text;

namespace ChargeAudit.Reports.Model.Sections;

/// <summary>Turns results into a report; page and Markdown are two ways to write the same one.</summary>
internal static class ReportBuilder
{
    /// <summary>The report.</summary>
    /// <param name="result">The results.</param>
    /// <param name="charts">The charts drawn of them; a chart that is not there is not mentioned.</param>
    /// <param name="place">Where it will be read.</param>
    public static ReportDocument Build(AuditResult result, IReadOnlyList<Chart> charts, ReportPlace place = ReportPlace.Folder)
    {
        var keys = charts.Select(c => c.Key).ToHashSet();
        var answers = Answer.Sentences(result);
        return new ReportDocument(
            result.Study.Title,
            answers[0],
            [.. answers.Skip(1), .. Answer.YearSentences(result)],
            KeyFigures.Of(result),
            [
                MeasuredSection.Of(result),
                TimeSection.Of(result, keys),
                EnergySection.Of(result, keys),
                LossSection.Of(result, keys),
                .. CoilsSection.Of(result),
                .. PlacementSection.Of(result, keys),
                StandbySection.Of(result, keys),
                YearSection.Of(result, keys),
                YardstickSection.Of(result),
                .. ProcedureSection.Of(result) is { } procedure ? new[] { procedure } : [],
                UncertaintySection.Of(result),
                ReviewSection.Of(result),
                FairnessSection.Of(result),
                FaultSection.Of(result),
                DoubtSection.Of(result),
                MethodsSection.Of(result),
                CautionSection.Of(),
                ReproduceSection.Of(result, place),
            ]);
    }
}
