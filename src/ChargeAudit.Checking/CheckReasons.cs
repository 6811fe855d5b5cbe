using System.Globalization;
using ChargeAudit.Logs;
using ChargeAudit.Metrology;
using ChargeAudit.Studies;

namespace ChargeAudit.Checking;

/// <summary>Verdicts in sentences.</summary>
public static class CheckReasons
{
    /// <summary>A figure's name for people: <c>pad, energy per charge at the adapter's output</c>.</summary>
    public static string Name(string method, MeasuringPoint point, CheckedFigure figure) =>
        $"{method}, {Words(figure)} {PlainWords.At(point)}";

    /// <summary>A figure in words: <c>power when waiting</c>.</summary>
    /// <param name="figure">The figure.</param>
    public static string Words(CheckedFigure figure) => figure switch
    {
        CheckedFigure.NoLoadPower => "power when waiting",
        CheckedFigure.MaintenancePower => "power when full",
        _ => StableName.Of(figure).Replace('-', ' '),
    };

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
        ? Prose.Of($"{100 * (ratio - 1):+0.00;-0.00;0.00} %")
        : ratio > 0 ? "no upper bound" : "no lower bound";

    /// <summary>The bounds of a ratio that exist, as words: <c>between +1.2 % and +1.6 %</c>.</summary>
    /// <param name="test">The test.</param>
    public static string Bounds(MarginTest test)
    {
        ArgumentNullException.ThrowIfNull(test);
        return (double.IsFinite(test.LowerBound), double.IsFinite(test.UpperBound)) switch
        {
            (true, true) => $"between {Change(test.LowerBound)} and {Change(test.UpperBound)}",
            (true, false) => $"at least {Change(test.LowerBound)}",
            (false, true) => $"at most {Change(test.UpperBound)}",
            _ => "without bounds",
        };
    }

    /// <summary>A share in per cent with the digits that it needs: <c>2 %</c>, <c>0.001 %</c>.</summary>
    /// <param name="share">The share. [1]</param>
    public static string Percent(double share) => !(Math.Abs(100 * share) is < 1 and > 1e-20)
        ? Prose.Of($"{100 * share:0.##} %")
        : Prose.Of($"{TwoDigits(100 * share):0.############################} %");

    private static decimal TwoDigits(double value) =>
        (decimal)double.Parse(value.ToString("G2", CultureInfo.InvariantCulture), CultureInfo.InvariantCulture);

    internal static IReadOnlyList<string> Of(CheckVerdict verdict, IReadOnlyList<FigureCheck> figures, double alpha) => verdict switch
    {
        CheckVerdict.Pass =>
        [
            Prose.Of(
                $"Every figure ({figures.Count}) is shown to be within its margin, each at the one-sided level "
                    + $"{alpha}{(figures.Any(f => f.Look is not null) ? " of all looks together" : "")}."),
            .. figures.Where(f => f.Note is not null).Select(f => $"{Name(f)}: {f.Note}"),
        ],
        CheckVerdict.Fail =>
            [.. figures.Where(f => f.FailsAdjusted).Select(Fail), .. figures.Where(f => !f.FailsAdjusted && f.Verdict != CheckVerdict.Pass)
            .Select(Open)],
        _ => [.. figures.Where(f => f.Verdict != CheckVerdict.Pass).Select(Open)],
    };

    private static string Fail(FigureCheck f) => Prose.Of(
        $"{Name(f)}: {Found(f.Test!)}{AtLeast(f.Test!)}, which is beyond the margin of {Percent(f.Margin)} (adjusted p "
            + $"{Probability(f.PBeyondAdjusted!.Value)}).{Added(f)}");

    private static string Found(MarginTest test) => double.IsFinite(test.Ratio)
        ? Change(test.Ratio)
        : "the baseline shows nothing, and the candidate does";

    private static string AtLeast(MarginTest test) => double.IsFinite(test.LowerBound) ? $" and at least {Change(test.LowerBound)}" : "";

    private static string Added(FigureCheck f) => f.Note is null ? "" : " " + f.Note;

    private static string Unbounded(MarginTest test) => double.IsFinite(test.UpperBound)
        ? ""
        : " (the baseline cannot be told from zero, so the ratio has no upper bound)";

    private static string Open(FigureCheck f) => f switch
    {
        { Test: null } => $"{Name(f)}: {f.Note}",
        { Verdict: CheckVerdict.Fail } => InvariantText.Of(
            $"{Name(f)}: {Found(f.Test)}, beyond the margin of {Percent(f.Margin)} by itself (p {Probability(f.Test.PBeyond)}) but not "
                + $"among so many figures (adjusted p {Probability(f.PBeyondAdjusted!.Value)}).{Added(f)}"),
        _ => InvariantText.Of(
            $"{Name(f)}: {Found(f.Test)}, {Bounds(f.Test)}{Unbounded(f.Test)}: neither within nor beyond the margin of {Percent(f.Margin)} "
                + $"is shown. {f.Settling!.Sentence}{Added(f)}"),
    };

    private static string Probability(double p) => p < 0.0001 ? "below 0.0001" : Prose.Of($"{p:0.0000}");
}
