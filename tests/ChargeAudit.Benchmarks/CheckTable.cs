using System.Globalization;
using System.Text;
using ChargeAudit.Tests.Checking;

namespace ChargeAudit.Benchmarks;

/// <summary>The table of docs/check.md: how often the check passes, fails and cannot tell, by true ratio.</summary>
internal static class CheckTable
{
    private const ulong Seed = 20_261;
    private const double Margin = 0.02;

    private static readonly (int Runs, double Scatter, double Gain, int Figures)[] Designs =
        [(3, 0.005, 0, 1), (3, 0.01, 0, 1), (5, 0.01, 0, 1), (10, 0.01, 0, 1), (5, 0.01, 0, 3), (5, 0.01, 0.003, 1)];

    private static readonly double[] Ratios = [0.98, 0.99, 1.00, 1.01, 1.02, 1.03, 1.04, 1.05, 1.06];

    /// <summary>Simulates every case and gives the table as Markdown.</summary>
    /// <param name="pairs">Pairs of designs a cell. [1]</param>
    internal static string Make(int pairs)
    {
        var text = new StringBuilder("| runs of each, scatter of a run, figures | " + string.Join(" | ", Ratios.Select(r => r.ToString("0.00", CultureInfo.InvariantCulture))) + " |\n");
        text.Append("|---|").Append(string.Concat(Enumerable.Repeat("---|", Ratios.Length))).Append('\n');
        foreach (var (runs, scatter, gain, figures) in Designs)
        {
            string meter = gain > 0 ? string.Create(CultureInfo.InvariantCulture, $", meter good to {100 * gain * Math.Sqrt(3):0.0} %") : "";
            text.Append(CultureInfo.InvariantCulture, $"| {runs}, {100 * scatter:0.0} %, {figures}{meter} |");
            foreach (double ratio in Ratios)
            {
                var shares = OperatingCharacteristics.Simulate(new PairsOfDesigns(ratio, runs, scatter, Margin, gain, figures), pairs, Seed);
                text.Append(CultureInfo.InvariantCulture, $" {100 * shares.Pass:0.0} / {100 * shares.Fail:0.0} |");
            }

            text.Append('\n');
        }

        return text.ToString();
    }
}
