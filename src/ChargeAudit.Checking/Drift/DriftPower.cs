using System.Globalization;
using ChargeAudit.Metrology;
using MathNet.Numerics.Distributions;

namespace ChargeAudit.Checking.Drift;

/// <summary>How soon the drift chart finds a step, simulated beforehand.</summary>
/// <param name="QuietChecks">Checks with no change between the first baseline and the step. [1]</param>
/// <param name="StepSigma">The step, in standard uncertainties of one check (of the mean of its runs). [1]</param>
/// <param name="AllMove">Whether all figures of the check step alike, or only one of them.</param>
/// <param name="Within5">Probability of an alarm within 5 checks after the step. [1]</param>
/// <param name="Within10">Likewise within 10. [1]</param>
/// <param name="Within20">Likewise within 20. [1]</param>
/// <param name="FirstQuarter">Checks within which a quarter of the histories have found it; null: more than
/// <see cref="DriftPower.LongestWait"/>. [1]</param>
/// <param name="Median">Likewise half of them. [1]</param>
/// <param name="ThirdQuarter">Likewise three quarters. [1]</param>
public sealed record DriftDetection(
    int QuietChecks,
    double StepSigma,
    bool AllMove,
    double Within5,
    double Within10,
    double Within20,
    int? FirstQuarter,
    int? Median,
    int? ThirdQuarter);

/// <summary>
/// What the drift test can find: simulated for whole checks with their figures together, with the scatter estimated from three runs of each
/// check (2000 histories a row, in docs/check.md), and what any test at all could find.
/// </summary>
/// <param name="Figures">Figures of the check that it was simulated for: as many as there are, or the next greater number simulated.
/// [1]</param>
/// <param name="Rows">The cases.</param>
public sealed record DriftPower(int Figures, IReadOnlyList<DriftDetection> Rows)
{
    /// <summary>Checks between false alarms of a whole check, on average, with no change. [1]</summary>
    public const double ChecksBetweenFalseAlarms = 335;

    /// <summary>The simulation looked this many checks ahead. [1]</summary>
    public const int LongestWait = 100;

    /// <summary>Numbers of figures that were simulated. [1]</summary>
    public static IReadOnlyList<int> FiguresSimulated { get; } = [1, 3, 8, 18];

    /// <summary>The table for a check.</summary>
    /// <param name="figures">Figures in its chart, at least one. [1]</param>
    public static DriftPower For(int figures)
    {
        int known = FiguresSimulated.FirstOrDefault(n => n >= figures, FiguresSimulated[^1]);
        return new DriftPower(known, [.. Table().Where(r => r.Figures == known).Select(r => r.Row)]);
    }

    /// <summary>
    /// The greatest probability with which any test could find a step within some checks, with false alarms as rare as here: one that knows
    /// the scatter, the figure that moved and when it did, and spends all its false alarms on that one question. <i>Source:</i> the lemma
    /// of Neyman and Pearson.
    /// </summary>
    /// <param name="quietChecks">Checks with no change between the first baseline and the step. [1]</param>
    /// <param name="stepSigma">The step, in standard uncertainties of one check. [1]</param>
    /// <param name="within">Checks after the step. [1]</param>
    public static double Possible(int quietChecks, double stepSigma, int within)
    {
        double falseAlarm = 1 - Math.Pow(1 - (1 / ChecksBetweenFalseAlarms), within), before = quietChecks + 1;
        return Normal.CDF(0, 1, (stepSigma * Math.Sqrt(before * within / (before + within))) + Normal.InvCDF(0, 1, falseAlarm));
    }

    /// <summary>Probability of a false alarm that each figure is allowed at each check, so that the whole check keeps its own.
    /// [1]</summary>
    /// <param name="figures">Figures in the check's chart, at least one. [1]</param>
    public static double HazardOf(int figures) => 1 - Math.Pow(1 - (1 / ChecksBetweenFalseAlarms), 1.0 / figures);

    private static IEnumerable<(int Figures, DriftDetection Row)> Table()
    {
        foreach (string[] f in BuiltIn.Rows(typeof(DriftPower).Assembly, "ChargeAudit.Checking.Drift.detection.tsv").Skip(1))
        {
            double Share(int i) => double.Parse(f[i], CultureInfo.InvariantCulture);
            int? Count(int i) => f[i] == "-" ? null : int.Parse(f[i], CultureInfo.InvariantCulture);
            yield return ((int)Share(0),
                new DriftDetection((int)Share(1), Share(2), f[3] == "all", Share(4), Share(5), Share(6), Count(7), Count(8), Count(9)));
        }
    }
}
