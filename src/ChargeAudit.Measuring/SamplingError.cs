using ChargeAudit.Measuring.Integration;

namespace ChargeAudit.Measuring;

/// <summary>
/// What instantaneous readings leave open between them. From reading to reading power may go to and fro (noise, pulses), of which each
/// reading catches a part by chance; or it may step at any time between the two, where the straight line is wrong by up to half the step.
/// Both show in the differences of neighbours: those that turn back at once are the first kind, the rest the second. A steady rise or fall
/// belongs to the rest, where it weighs little.
/// </summary>
/// <remarks>
/// A step of height A at a time anywhere between two rows h apart leaves an error within ±A·h/2, rectangular: variance A²h²/12. Independent
/// scatter of variance σ² in n readings leaves n·σ²·h²; the part of a squared difference that turns back is 1.288 σ² on average and the
/// rest 0.714 σ² (by simulation), so the weight of the first is (1 − 0.714/12)/1.288 = 0.73. A pulse caught by one
/// reading counts A²h²; as many more or fewer may have been caught, and at least one.
/// <i>Source:</i> successive differences as a measure of scatter: J. von Neumann et al., Annals of Mathematical Statistics 12 (1941)
/// 153–162.
/// </remarks>
internal static class SamplingError
{
    private const double TurningWeight = 0.73;

    /// <summary>Standard uncertainty of the energy of a stretch, scatter of the readings included. [J]</summary>
    /// <param name="envelope">Power over time.</param>
    /// <param name="fromS">Start. [s]</param>
    /// <param name="toS">End. [s]</param>
    public static double StandardJ(PowerEnvelope envelope, double fromS, double toS)
    {
        var readings = ReadingSeries.Of(envelope, fromS, toS);
        if (readings.Count == 0)
        {
            return 0;
        }

        double sum = 0, greatest = 0;
        foreach (var run in readings.Runs)
        {
            for (int i = 1; i < run.Count; i++)
            {
                double change = run[i] - run[i - 1];
                double before = i > 1 ? run[i - 1] - run[i - 2] : 0;
                double after = i + 1 < run.Count ? run[i + 1] - run[i] : 0;
                double turning =
                    Math.Min(change * change, Math.Max(change * before < 0 ? before * before : 0, change * after < 0 ? after * after : 0));
                sum += (TurningWeight * turning) + (((change * change) - turning) / 12);
                greatest = Math.Max(greatest, turning);
            }
        }

        return readings.SpacingS * Math.Sqrt(sum + (greatest / 3));
    }
}
