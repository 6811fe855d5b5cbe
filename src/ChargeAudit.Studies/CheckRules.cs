using ChargeAudit.Logs;
using ChargeAudit.Metrology.Statistics;

namespace ChargeAudit.Studies;

/// <summary>What a check against a baseline asks for. Immutable.</summary>
public sealed record CheckRules
{
    /// <summary>Level of each one-sided test unless set. [1]</summary>
    public const double UsualAlpha = 0.05;

    /// <summary>Least level that can be asked for. [1]</summary>
    public const double LeastAlpha = 0.0001;

    /// <summary>Greatest level that can be asked for. [1]</summary>
    public const double GreatestAlpha = 0.45;

    /// <summary>Margin of every figure that has none of its own: how much greater it may be, as a share; null: not given. [1]</summary>
    public double? Margin { get; init; }

    /// <summary>Margins of single figures, as shares. [1]</summary>
    public IReadOnlyDictionary<CheckedFigure, double> Margins { get; init; } = new Dictionary<CheckedFigure, double>();

    /// <summary>Margins of single figures at single measuring points, as shares; they go before <see cref="Margins"/>. [1]</summary>
    public IReadOnlyDictionary<(MeasuringPoint Point, CheckedFigure Figure), double> PointMargins { get; init; } =
        new Dictionary<(MeasuringPoint Point, CheckedFigure Figure), double>();

    /// <summary>Level of each one-sided test, from <see cref="LeastAlpha"/> to <see cref="GreatestAlpha"/>; null: <see cref="UsualAlpha"/>.
    /// [1]</summary>
    public double? Alpha { get; init; }

    /// <summary>Figures compared; all unless set.</summary>
    public IReadOnlyList<CheckedFigure> Figures { get; init; } = Enum.GetValues<CheckedFigure>();

    /// <summary>
    /// Scatter of a single run, as a share, taken as known where a figure rests on one run and shows none itself; null: such a figure stays
    /// inconclusive. [1]
    /// </summary>
    public double? Repeatability { get; init; }

    /// <summary>Most looks that a plan can have. [1]</summary>
    public const int MostLooks = 20;

    /// <summary>Runs of the candidate at which it will be looked at, rising, chosen beforehand; empty: no plan, and a single look.
    /// [1]</summary>
    public IReadOnlyList<int> Looks { get; init; } = [];

    /// <summary>How the level is shared out over the looks.</summary>
    public SpendingRule Spending { get; init; } = SpendingRule.OBrienFleming;

    /// <summary>Whether a number can be a level.</summary>
    /// <param name="alpha">The number. [1]</param>
    public static bool IsLevel(double alpha) => alpha is >= LeastAlpha and <= GreatestAlpha;

    /// <summary>The margin of a figure; null where none is given. [1]</summary>
    /// <param name="figure">The figure.</param>
    public double? MarginOf(CheckedFigure figure) => Margins.TryGetValue(figure, out double own) ? own : Margin;

    /// <summary>The margin of a figure at a measuring point; null where none is given. [1]</summary>
    /// <param name="figure">The figure.</param>
    /// <param name="point">The point.</param>
    public double? MarginOf(CheckedFigure figure, MeasuringPoint point) => PointMargins.TryGetValue((point, figure), out double own)
        ? own
        : MarginOf(figure);
}
