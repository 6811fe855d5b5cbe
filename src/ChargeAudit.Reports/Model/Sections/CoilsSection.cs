using ChargeAudit.Comparing.Methods;
using ChargeAudit.Comparing.Results;
using ChargeAudit.Metrology;
using ChargeAudit.Reports.Text;

namespace ChargeAudit.Reports.Model.Sections;

/// <summary>How much of a pad's loss its coils set, and how much is left for the rest. Only where a study refers to coils.</summary>
internal static class CoilsSection
{
    /// <summary>The section; none where no method's coils are known.</summary>
    public static IEnumerable<Section> Of(AuditResult result)
    {
        var methods = result.Methods.Where(m => m.Coils is not null).ToList();
        if (methods.Count == 0)
        {
            yield break;
        }

        yield return new Section("coils", "Measured beside possible",
        [
            new DataTable(
                "Pad and receiver over a charge",
                [
                    new("Method"), new("Measured efficiency", ColumnKind.Number), new("Best the coils allow", ColumnKind.Number),
                    new("Loss set by coupling and coil quality", ColumnKind.Number), new("The rest of the loss", ColumnKind.Number),
                ],
                [.. methods.Select(m => (IReadOnlyList<string>)[
                    m.Name, Cells.Percent(m.Coils!.MeasuredEfficiency), Percent(m.Coils.PossibleEfficiency), Cells.Of(m.Coils.CoilLoss),
                        Cells.Of(m.Coils.Rest)])]),
            new Bullets([.. methods.Select(Sentence)]),
            new Paragraph(
                "The coils' part is what even lossless electronics at the best load would lose to deliver the same energy; only other "
                    + "coils or a better place on the pad make it smaller. "
                + "The rest is inverter, rectifier, control, a load off its best value and warm copper: a matter of design. The coils' "
                    + "best is taken as exact; it is no better than the data given about them."),
        ]);
    }

    private static string Sentence(MethodResult method)
    {
        var coils = method.Coils!;
        if (coils is not { MeasuredEfficiency.Value: { } measured, CoilLoss.Value: { } loss, Rest.Value: { } rest })
        {
            return $"{method.Name}: the coils allow {Percent(coils.PossibleEfficiency)} at best. What the pad does is not known: "
                + $"{coils.MeasuredEfficiency.WhyNot}.";
        }

        string found = FigureText.Value(FigureText.Percent(measured));
        if (coils.Contradicts)
        {
            return $"{method.Name}: this cannot be. The pad delivers {found} where its coils allow {Percent(coils.PossibleEfficiency)} at "
                + "most, so the coil data or a log is wrong.";
        }

        return rest.Value < 0
            ? $"{method.Name}: the pad delivers {found}, as much as its coils allow ({Percent(coils.PossibleEfficiency)}) to within the "
                + "uncertainty."
            : $"{method.Name}: of {FigureText.Plain(loss.Value + rest.Value, loss.Unit, 3)} lost in pad and receiver, "
                + $"{FigureText.Plain(loss.Value, loss.Unit, 3)} are set by coupling and coil quality; "
                + $"{FigureText.Plain(rest.Value, rest.Unit, 3)} are the rest.";
    }

    private static string Percent(double share) => Prose.Of($"{100 * share:F1} %");
}
