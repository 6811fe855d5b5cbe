using System.Globalization;
using ChargeAudit.LogMaker.Studies;

namespace ChargeAudit.LogMaker.Coverage;

/// <summary>How a figure stands to the truth.</summary>
public enum Outcome
{
    /// <summary>The interval holds the truth.</summary>
    Holds,

    /// <summary>It does not.</summary>
    Misses,

    /// <summary>There is no interval, with a reason.</summary>
    NotGiven,

    /// <summary>The evaluation stopped.</summary>
    Stopped,
}

/// <summary>One figure of one study beside its truth.</summary>
public sealed record Trial(MadeStudy Study, TrueFigure Truth, FoundFigure? Found, string? Stopped)
{
    /// <summary>Digits lost in writing and adding are no miss. [1]</summary>
    private const double Rounding = 1e-9;

    public Outcome Outcome => Stopped is not null ? Outcome.Stopped
        : Found is not { Low: { } low, High: { } high } ? Outcome.NotGiven
        : low - Slack <= Truth.Value && Truth.Value <= high + Slack ? Outcome.Holds : Outcome.Misses;

    /// <summary>Half the interval; NaN where there is none or it has an open end.</summary>
    public double HalfWidth => Found is { Low: { } low, High: { } high } ? (high - low) / 2 : double.NaN;

    private double Slack => Rounding * Math.Max(1e-3, Math.Abs(Truth.Value));

    /// <summary>
    /// Whether it counts in a table: one method and one place of each study, in turn. What one meter shows of two methods, or two meters of
    /// one charge, errs alike, and a row's limits need intervals that are independent.
    /// </summary>
    public bool Counts => (Truth.Figure == FigureKind.Ratio || Truth.Method == (Study.Seed / 32 % 2 == 0 ? "cable" : "pad"))
        && (Truth.Figure is FigureKind.YearEnergy or FigureKind.YearCost || Study.Truths.All(t => t.Place == Truth.Place)
            || (Truth.Place == Chargers.Place.Wall) == (Study.Seed / 64 % 2 == 0));

    /// <summary>Whether the charge of some log of this figure was taken to be elsewhere than it ran: then the borders are at fault, not
    /// the interval.</summary>
    public bool BordersWrong { get; init; }

    private string Reason => Outcome is Outcome.NotGiven or Outcome.Stopped ? ", " + (Stopped ?? Found?.WhyNot ?? "not in the result") : "";

    /// <summary>One line for a developer who looks for the cause.</summary>
    public override string ToString() => string.Create(
        CultureInfo.InvariantCulture,
        $"seed {Study.Seed}: {Truth.Figure} {Truth.Method} {Truth.Place}: {Outcome}{(BordersWrong ? " (borders)" : "")}: true "
            + $"{Truth.Value:G6}, found {Found?.Value:G6} ({Found?.Low:G6} to {Found?.High:G6}), ideal ±{Truth.IdealHalfWidth:G3}{Reason}; "
            + $"{MeterKind.Of(Truth.Meter)} every {Truth.Meter.IntervalS} s [{Study.Summary}]");

    /// <summary>All figures of a study beside their truths.</summary>
    public static IEnumerable<Trial> Of(MadeStudy study, FoundStudy found) => study.Truths.Select(t =>
        new Trial(study, t, found.Figures.FirstOrDefault(f => f.Figure == t.Figure && f.Method == t.Method && f.Place == t.Place),
            found.Stopped)
        {
            BordersWrong = study.Charges.Any(c => IsOf(c.File, t)
                && found.Charges.Where(f => f.File == c.File).Any(f => IsFar(c, f.StartS, f.EndS, t.Meter.IntervalS))),
        });

    // A ratio rests on the reference's logs as well.
    private static bool IsOf(string file, TrueFigure truth) =>
        (truth.Figure == FigureKind.Ratio || file.StartsWith(truth.Method + "-", StringComparison.Ordinal))
            && file.Contains(truth.Place == Chargers.Place.Wall ? "-wall" : "-usb", StringComparison.Ordinal);

    private static bool IsFar(TrueCharge charge, double startS, double endS, double intervalS)
    {
        double room = Math.Max(3 * intervalS, 0.02 * (charge.EndS - charge.StartS));
        return Math.Abs(startS - charge.StartS) > room || Math.Abs(endS - charge.EndS) > room;
    }
}
