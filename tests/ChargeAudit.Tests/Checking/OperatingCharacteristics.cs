using ChargeAudit.Checking;
using ChargeAudit.Metrology;
using ChargeAudit.Simulation.Randomness;

namespace ChargeAudit.Tests.Checking;

/// <summary>Pairs of designs whose true ratio is known, and what the check says of them.</summary>
/// <param name="TrueRatio">Candidate by baseline. [1]</param>
/// <param name="Runs">Runs of each. [1]</param>
/// <param name="Scatter">Scatter of a single run, as a share; stated as known where there is one run only. [1]</param>
/// <param name="Margin">Margin of the check. [1]</param>
/// <param name="Gain">Relative standard uncertainty of the gain of the one meter. [1]</param>
/// <param name="Figures">How many figures are checked, all with this true ratio. [1]</param>
internal sealed record PairsOfDesigns(double TrueRatio, int Runs, double Scatter, double Margin, double Gain = 0, int Figures = 1)
{
    /// <summary>What measuring does to each run; null: its energy is known exactly.</summary>
    public MeasuredCharges? Measured { get; init; }
}

/// <summary>Shares of the verdicts over simulated pairs. [1]</summary>
/// <param name="Pass">Passed.</param>
/// <param name="Fail">Failed.</param>
internal sealed record VerdictShares(double Pass, double Fail)
{
    public double Inconclusive => 1 - Pass - Fail;
}

/// <summary>
/// The operating characteristics of the check: run energies are drawn with a known true ratio, normal scatter and one gain of the meter for
/// both designs, measured with the errors of logs if desired, and go through the same function as those of a study.
/// </summary>
internal static class OperatingCharacteristics
{
    public static VerdictShares Simulate(PairsOfDesigns what, int pairs, ulong seed)
    {
        // The same scatter with and without logs: their statistical powers differ by what measuring costs and not by chance.
        var random = new RandomSource(seed)
            .Named(InvariantText.Of($"{what.TrueRatio:0.000}-{what.Runs}-{what.Scatter}-{what.Gain}-{what.Figures}"));
        var logs = new RandomSource(seed).Named("logs");
        int passed = 0, failed = 0;
        var rules = CheckCases.EnergyOnly(what.Margin) with { Repeatability = what.Runs == 1 ? what.Scatter : null };
        for (int i = 0; i < pairs; i++)
        {
            double gain = 1 + random.NextWithin(what.Gain * Math.Sqrt(3));
            var baseline = Design("base", 10 * gain, what, random, logs);
            var candidate = Design("new", 10 * what.TrueRatio * gain, what, random, logs);
            switch (Checker.Run(candidate, baseline, rules).Verdict)
            {
                case CheckVerdict.Pass:
                    passed++;
                    break;
                case CheckVerdict.Fail:
                    failed++;
                    break;
            }
        }

        return new VerdictShares((double)passed / pairs, (double)failed / pairs);
    }

    private static MeasuredDesign Design(string title, double energyWh, PairsOfDesigns what, RandomSource random, RandomSource logs)
    {
        var designs = Enumerable.Range(0, what.Figures).Select(f =>
        {
            double[] energies = [.. Enumerable.Range(0, what.Runs).Select(_ => energyWh * (1 + (what.Scatter * random.NextNormal())))];
            return what.Measured is { } measured
                ? CheckCases.Design(title,
                    [.. energies.Select((e, i) => measured.Run((int)(logs.NextUnit() * measured.Found.Count), e, $"{title}-{f}-{i}"))])
                : CheckCases.Design(title, energies, what.Gain);
        }).ToList();
        return designs[0] with { Methods = [.. designs.Select((d, i) => d.Methods[0] with { Name = $"pad{i}" })] };
    }
}
