using ChargeAudit.Comparing.Results;
using ChargeAudit.Metrology.Uncertainty;
using ChargeAudit.Reports.Text;

namespace ChargeAudit.Reports.Model.Sections;

/// <summary>The few figures shown large at the top.</summary>
internal static class KeyFigures
{
    // Where there are more methods than this, only their overheads are shown.
    private const int MostInFull = 2;

    /// <summary>Overhead, extra energy and extra cost of each method; where those are missing, their reason.</summary>
    public static IReadOnlyList<KeyFigure> Of(AuditResult result)
    {
        var figures = new List<KeyFigure>();
        var headlines = Answer.Headlines(result);
        foreach (var c in headlines)
        {
            var overhead = c.OverheadRatio.Value is { } ratio
                ? Figure.Of(FigureText.Overhead(ratio), c.OverheadRatio.Assumed)
                : c.OverheadRatio;
            figures.Add(Key($"Overhead {Answer.Charging(result, c.Method)}, {Words.At(c.Point)}", overhead));
            if (headlines.Count > MostInFull)
            {
                continue;
            }

            figures.Add(Key($"Extra energy per charge {Answer.Charging(result, c.Method)}", c.ExtraEnergyPerCharge));
            if (result.Comparisons.FirstOrDefault(x => x.Method == c.Method && x.ExtraCostPerYear.Value is not null) is { } cost)
            {
                figures.Add(Key($"Extra cost a year {Answer.Charging(result, c.Method)}", cost.ExtraCostPerYear));
            }
        }

        return figures;
    }

    private static KeyFigure Key(string label, Figure figure) => figure.Value is { } value
        ? new KeyFigure(label, FigureText.Value(value), (FigureText.Interval(value) is { } interval
            ? $"95 % interval {interval}"
            : $"uncertainty not known: {value.UnknownBecause ?? "no source of error was stated"}") + DerivedText.Behind(figure))
        : new KeyFigure(label, "not known", figure.WhyNot ?? "");
}
