using ChargeAudit.Measuring.Integration;
using ChargeAudit.Metrology;

namespace ChargeAudit.Comparing.Procedures;

/// <summary>
/// The stretch over which maintenance power is averaged: the last 4 h of the test, or, where the power comes in regular cycles, a whole
/// number of cycles that includes at least the last 4 h. <i>Source:</i> 10 CFR 430 subpart B appendix Y, section 3.3.9.
/// </summary>
/// <param name="FromS">Start. [s]</param>
/// <param name="ToS">End: the end of the test. [s]</param>
/// <param name="Cycles">Number of cycles; 0 where the power does not come in cycles.</param>
/// <param name="Basis">How it was chosen, as a sentence without a full stop.</param>
public sealed record MaintenanceWindow(double FromS, double ToS, int Cycles, string Basis)
{
    private const double LastS = 4 * 3600;

    /// <summary>Cycles count as regular where the longest is at most this many times the shortest. Our own choice: the procedure names
    /// none. [1]</summary>
    private const double Regular = 1.5;

    /// <summary>Finds the stretch.</summary>
    /// <param name="envelope">Power over time.</param>
    /// <param name="maintenanceFromS">From where on there is maintenance; cycles are looked for from here. [s]</param>
    /// <param name="testEndS">End of the test. [s]</param>
    public static MaintenanceWindow Find(PowerEnvelope envelope, double maintenanceFromS, double testEndS)
    {
        double last = testEndS - LastS;
        var rises = Rises(envelope, Math.Min(maintenanceFromS, last), testEndS);
        if (rises.Count < 3)
        {
            return new MaintenanceWindow(last, testEndS, 0, rises.Count == 0
                ? "mean over the last 4 h; the power shows no cycles"
                : "mean over the last 4 h; the power rises too seldom to know the length of a cycle");
        }

        var lengths = rises.Zip(rises.Skip(1), (a, b) => b - a).ToList();
        if (lengths.Max() > Regular * lengths.Min())
        {
            return new MaintenanceWindow(last, testEndS, 0,
                "mean over the last 4 h; the power rises at uneven times, so it has no cycle to count");
        }

        double cycle = (rises[^1] - rises[0]) / (rises.Count - 1);
        int cycles = (int)Math.Ceiling((LastS / cycle) - 1e-6);
        double from = testEndS - (cycles * cycle);
        return from >= maintenanceFromS
            ? new MaintenanceWindow(from, testEndS, cycles,
                Prose.Of($"mean over {cycles} whole cycles of {cycle / 60:0.##} min, which include the last 4 h"))
            : new MaintenanceWindow(last, testEndS, 0, "mean over the last 4 h; whole cycles would reach back into the charge");
    }

    /// <summary>When the power rises from its usual level past the middle of its range.</summary>
    private static List<double> Rises(PowerEnvelope envelope, double fromS, double toS)
    {
        var powers = new List<(double StartS, double W)>();
        for (int i = 0; i < envelope.Count; i++)
        {
            double start = envelope.StartS(i);
            if (start >= fromS && start + envelope.BucketWidthS <= toS && envelope[i].CoveredS.Value > 0)
            {
                powers.Add((start, envelope[i].MeanPowerW));
            }
        }

        var rises = new List<double>();
        if (powers.Count < 8)
        {
            return rises;
        }

        double usual = powers.Select(p => p.W).Order().ElementAt(powers.Count / 2);
        double low = Math.Min(usual, powers.Average(p => p.W));
        double high = powers.Max(p => p.W);
        double range = high - low;
        if (range < Math.Max(0.02, 0.5 * Math.Abs(low)))
        {
            return rises;
        }

        bool up = powers[0].W > low + (0.5 * range);
        foreach (var (start, w) in powers)
        {
            if (!up && w > low + (0.5 * range))
            {
                rises.Add(start);
                up = true;
            }
            else if (up && w < low + (0.25 * range))
            {
                up = false;
            }
        }

        return rises;
    }
}
