using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Uncertainty;
using ChargeAudit.Studies;

namespace ChargeAudit.Comparing.Procedures;

/// <summary>The published limits known to this program, and figures beside them.</summary>
public static class Yardsticks
{
    private static readonly Lazy<IReadOnlyList<Yardstick>> Table =
        new(() => [.. DataTable.Read("yardsticks.tsv").Select(r => new Yardstick(r))]);

    /// <summary>All of them, branch by branch.</summary>
    public static IReadOnlyList<Yardstick> All => Table.Value;

    /// <summary>The branch that holds at a value of the variable and on a day; null where there is none.</summary>
    /// <param name="id">Id of the rule.</param>
    /// <param name="x">The variable; anything where the rule has none.</param>
    /// <param name="day">The day; null: whichever branch comes first in the table.</param>
    public static Yardstick? At(string id, double x, DateOnly? day = null) => All.FirstOrDefault(
        y => y.Id == id && y.Holds(x) && (day is not { } d || (d >= y.AppliesFrom && (y.AppliesUntil is not { } end || d < end))));

    /// <summary>A figure beside a limit.</summary>
    /// <param name="yardstick">The limit.</param>
    /// <param name="x">The variable.</param>
    /// <param name="value">The figure, in the limit's unit.</param>
    /// <param name="doubt">Why this may be the wrong limit to look at, as a sentence; null where nothing speaks against it.</param>
    /// <param name="measuredX">The variable as it was measured, where it is uncertain; null: taken as exact.</param>
    public static YardstickFinding Compare(Yardstick yardstick, double x, Figure value, string? doubt = null, Measured? measuredX = null)
    {
        double? limit = yardstick.LimitAt(x);
        var standing = StandingOf(yardstick, limit, Against(yardstick, x, value, measuredX));
        string bound = limit is { } l
            ? Prose.Of($"{(yardstick.AtMost ? "at most" : "at least")} {l:0.####} {Unit(yardstick.Unit)}").TrimEnd()
            : yardstick.Rule;
        string found = value.Value is { } v
            ? $"found {Found(v)} {Unit(yardstick.Unit)}".TrimEnd()
            : $"no figure: {value.WhyNot}";
        string words = standing switch
        {
            Standing.Inside => "inside it",
            Standing.Beyond => "beyond it",
            Standing.CannotTell => "which side of it cannot be told",
            _ => "not compared",
        };
        string standingWords = value.Value is null ? string.Empty : $", {words}";
        string assumed = value.Value is not null && value.Assumed is { } a ? $" (rests on {a})" : string.Empty;

        // The source line of a limit from memory says so already.
        string note = yardstick.Mark == SourceMark.Memory || yardstick.Note.Length == 0
            ? string.Empty
            : $" {PlainWords.Capital(yardstick.Note)}.";
        string doubted = doubt is null ? string.Empty : $" {doubt}";
        return new YardstickFinding(
            yardstick, limit, value, standing,
                $"{yardstick.What}: {bound}; {found}{assumed}{standingWords}. {yardstick.SourceLine()}.{note}{doubted} For information, "
                + "not a certificate.")
        {
            Doubt = doubt,
        };
    }

    // value ≤ limit(X) is the same as value − slope·(X − x) ≤ limit(x): so what the figure and the variable share is counted once.
    private static Figure Against(Yardstick yardstick, double x, Figure value, Measured? measuredX) =>
        (value.Value, measuredX, yardstick.SlopeAt(x)) is ({ } v, { } m, not 0 and var slope)
        ? value with { Value = Measured.Combine(v.Value, v.Unit, (1, v), (-slope, m)) }
        : value;

    // Three digits where the uncertainty is not known; no such figure is judged, so none can seem to lie on a limit.
    private static string Found(Measured value) => value.StandardUncertainty is null && Math.Abs(value.Value) < 1000
        ? Prose.Of($"{value.Value:G3}")
        : Prose.Of($"{value.Value:0.####}");

    private static string Unit(string unit) => unit == "1" ? string.Empty : unit;

    private static Standing StandingOf(Yardstick yardstick, double? limit, Figure value)
    {
        if (limit is not { } l || value.Value is not { } v)
        {
            return Standing.NotCompared;
        }

        if (v.Interval() is not { } i)
        {
            return Standing.CannotTell;
        }

        if (yardstick.AtMost ? i.High <= l : i.Low >= l)
        {
            return Standing.Inside;
        }

        return (yardstick.AtMost ? i.Low > l : i.High < l) ? Standing.Beyond : Standing.CannotTell;
    }
}
