using ChargeAudit.Measuring.Integration;
using ChargeAudit.Measuring.Segmentation;

namespace ChargeAudit.Tests.Measuring.Segmentation.Truth;

/// <summary>How well a finding meets the truth.</summary>
/// <param name="BorderErrors">Error of each true border that was found, in samples.</param>
/// <param name="MissingBorders">True borders with no found border of the same two modes.</param>
/// <param name="ChargeEnergyErrors">Relative error of each charge's energy.</param>
/// <param name="ChargesRight">Whether the number and the places of the charges are right.</param>
/// <param name="SequenceRight">Whether all modes follow one another as they should.</param>
/// <param name="OtherEnergyError">Greatest error of another mode's energy, as a share of the log's energy.</param>
/// <param name="Covered">Borders whose error lies within two standard uncertainties.</param>
public sealed record TruthScore(
    IReadOnlyList<double> BorderErrors, int MissingBorders, IReadOnlyList<double> ChargeEnergyErrors, bool ChargesRight, bool SequenceRight,
        double OtherEnergyError, int Covered)
{
    public static TruthScore Of(TruthLog log, PowerEnvelope envelope, ModeFinding finding)
    {
        var found = finding.Modes;
        var trueCharges = log.Spans.Where(s => s.Mode == Mode.Charge).ToList();
        var foundCharges = found.Where(s => s.Mode == Mode.Charge).ToList();
        bool right = trueCharges.Count == foundCharges.Count
            && trueCharges.Zip(foundCharges)
                .All(p => Overlap(p.First, p.Second) > 0.5 * Math.Max(p.First.EndS - p.First.StartS, p.Second.DurationS));
        var energyErrors = right
            ? trueCharges.Zip(foundCharges).Select(p => (envelope.EnergyBetweenJ(p.Second.StartS, p.Second.EndS) / p.First.EnergyJ) - 1)
                .ToList()
            : [];
        var errors = new List<double>();
        int missing = 0;
        int covered = 0;
        for (int i = 1; i < log.Spans.Count; i++)
        {
            var (before, after) = (log.Spans[i - 1].Mode, log.Spans[i].Mode);
            double at = log.Spans[i].StartS;
            var candidates = Enumerable.Range(1, Math.Max(0, found.Count - 1))
                .Where(k => found[k - 1].Mode == before && found[k].Mode == after)
                .Select(k => (Error: found[k].StartS - at, U: found[k].StartUncertaintyS)).OrderBy(c => Math.Abs(c.Error)).ToList();
            if (candidates.Count == 0)
            {
                missing++;
                continue;
            }

            errors.Add(Math.Abs(candidates[0].Error) / log.IntervalS);
            covered += Math.Abs(candidates[0].Error) <= 2 * candidates[0].U ? 1 : 0;
        }

        double total = log.Spans.Sum(s => s.EnergyJ);
        double other = 0;
        foreach (var mode in new[] { Mode.Off, Mode.NoLoad, Mode.Maintenance })
        {
            double truth = log.Spans.Where(s => s.Mode == mode).Sum(s => s.EnergyJ);
            double ours = found.Where(s => s.Mode == mode).Sum(s => envelope.EnergyBetweenJ(s.StartS, s.EndS));
            other = total > 0 ? Math.Max(other, Math.Abs(ours - truth) / total) : other;
        }

        return new TruthScore(errors, missing, energyErrors, right, log.Spans.Select(s => s.Mode).SequenceEqual(found.Select(s => s.Mode)),
            other, covered);
    }

    private static double Overlap(TruthSpan a, ModeSpan b) => Math.Max(0, Math.Min(a.EndS, b.EndS) - Math.Max(a.StartS, b.StartS));
}
