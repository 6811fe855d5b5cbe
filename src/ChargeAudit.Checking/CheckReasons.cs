using ChargeAudit.Logs;
using ChargeAudit.Metrology;
using ChargeAudit.Studies;

namespace ChargeAudit.Checking;

/// <summary>Verdicts in sentences.</summary>
public static class CheckReasons
{
    /// <summary>A figure's name for people: <c>pad, energy per charge at usb</c>.</summary>
    public static string Name(string method, MeasuringPoint point, CheckedFigure figure) =>
        $"{method}, {StableName.Of(figure).Replace('-', ' ').Replace("no load", "no-load", StringComparison.Ordinal)} at {StableName.Of(point)}";

    /// <summary>A figure's name for people.</summary>
    /// <param name="figure">The figure.</param>
    public static string Name(FigureCheck figure)
    {
        ArgumentNullException.ThrowIfNull(figure);
        return Name(figure.Method, figure.Point, figure.Figure);
    }

    /// <summary>A change in per cent with its sign: <c>+1.4 %</c>.</summary>
    /// <param name="ratio">The ratio. [1]</param>
    public static string Change(double ratio) => double.IsFinite(ratio)
        ? FormattableString.Invariant($"{100 * (ratio - 1):+0.00;-0.00;0.00} %")
        : ratio > 0 ? "no upper bound" : "no lower bound";

    internal static IReadOnlyList<string> Of(CheckVerdict verdict, IReadOnlyList<FigureCheck> figures, double alpha) => verdict switch
    {
        CheckVerdict.Pass => [FormattableString.Invariant($"Every figure ({figures.Count}) is shown to be within its margin, each at the one-sided level {alpha}.")],
        CheckVerdict.Fail => [.. figures.Where(f => f.FailsAdjusted).Select(Fail), .. figures.Where(f => !f.FailsAdjusted && f.Verdict != CheckVerdict.Pass).Select(Open)],
        _ => [.. figures.Where(f => f.Verdict != CheckVerdict.Pass).Select(Open)],
    };

    private static string Fail(FigureCheck f) => FormattableString.Invariant(
        $"{Name(f)}: {Change(f.Test!.Ratio)} and at least {Change(f.Test.LowerBound)}, which is beyond the margin of {100 * f.Margin:0.##} % (adjusted p {Probability(f.PBeyondAdjusted!.Value)}).");

    private static string Open(FigureCheck f) => f switch
    {
        { Test: null } => $"{Name(f)}: {f.Note}",
        { Verdict: CheckVerdict.Fail } => FormattableString.Invariant(
            $"{Name(f)}: {Change(f.Test.Ratio)}, beyond the margin of {100 * f.Margin:0.##} % by itself (p {Probability(f.Test.PBeyond)}) but not among so many figures (adjusted p {Probability(f.PBeyondAdjusted!.Value)})."),
        _ => FormattableString.Invariant(
            $"{Name(f)}: {Change(f.Test.Ratio)}, between {Change(f.Test.LowerBound)} and {Change(f.Test.UpperBound)}: neither within nor beyond the margin of {100 * f.Margin:0.##} % is shown. {f.Settling!.Sentence}"),
    };

    private static string Probability(double p) => p < 0.0001 ? "below 0.0001" : FormattableString.Invariant($"{p:0.0000}");
}
