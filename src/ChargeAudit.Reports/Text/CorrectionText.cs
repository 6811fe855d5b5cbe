using ChargeAudit.Comparing.Results;

namespace ChargeAudit.Reports.Text;

/// <summary>What calibrations of meters changed, in words.</summary>
public static class CorrectionText
{
    /// <summary>One sentence for each figure.</summary>
    /// <param name="result">The audit.</param>
    public static IReadOnlyList<string> Of(AuditResult result) => [.. result.Corrections.Select(c =>
        $"{c.Method}, {Words.At(c.Point)}: {Name(c.Figure)} {FigureText.Plain(c.AsRead, c.Unit)} as read, corrected by {WithSign(c)} "
        + $"({c.By}).")];

    /// <summary>The figure's name.</summary>
    /// <param name="figure">The figure.</param>
    public static string Name(CorrectedFigure figure) => figure switch
    {
        CorrectedFigure.EnergyPerCharge => "energy per charge",
        CorrectedFigure.NoLoadPower => "waiting",
        _ => "full",
    };

    /// <summary>The correction with its sign.</summary>
    /// <param name="c">The correction.</param>
    public static string WithSign(CorrectionResult c) =>
        (c.Correction < 0 ? "−" : "+") + FigureText.Plain(Math.Abs(c.Correction), c.Unit, 3);
}
