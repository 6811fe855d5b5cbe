using System.Globalization;
using System.Text;
using ChargeAudit.LogMaker.Meters;
using ChargeAudit.Metrology;
using ChargeAudit.Tests.Checking;

namespace ChargeAudit.Benchmarks;

/// <summary>The table of docs/check.md: how often the check passes, fails and cannot tell, by true ratio, and what measuring costs
/// it.</summary>
internal static class CheckTable
{
    private const ulong Seed = 20_261;
    private const double Margin = 0.02;
    private const int Logs = 200;

    private static readonly (int Runs, double Scatter, int Figures, double IntervalS, double Gain, RowKind Kind)[] Designs =
    [
        (1, 0.005, 1, 1, 0, RowKind.Instantaneous), (2, 0.005, 1, 1, 0, RowKind.Instantaneous), (3, 0.005, 1, 0, 0, RowKind.Instantaneous),
        (3, 0.005, 1, 1, 0, RowKind.Instantaneous), (3, 0.005, 1, 30, 0, RowKind.Instantaneous), (3, 0.01, 1, 1, 0, RowKind.Instantaneous),
        (3, 0.01, 1, 30, 0, RowKind.Instantaneous), (5, 0.01, 1, 1, 0, RowKind.Instantaneous), (5, 0.01, 1, 5, 0, RowKind.Instantaneous),
        (5, 0.01, 1, 30, 0, RowKind.Instantaneous), (5, 0.01, 1, 10, 0, RowKind.AverageEnding), (5, 0.01, 3, 10, 0, RowKind.Instantaneous),
        (8, 0.01, 1, 10, 0, RowKind.Instantaneous), (8, 0.01, 1, 30, 0, RowKind.Instantaneous),
        (10, 0.01, 1, 0, 0, RowKind.Instantaneous), (5, 0.01, 1, 0, 0.003, RowKind.Instantaneous),
        (8, 0.01, 18, 10, 0, RowKind.Instantaneous),
    ];

    private static readonly double[] Ratios = [0.98, 0.99, 1.00, 1.01, 1.02, 1.03, 1.04, 1.05, 1.06];

    /// <summary>Simulates every case and writes the table as Markdown, row by row.</summary>
    /// <param name="pairs">Pairs of designs a cell. [1]</param>
    /// <param name="output">Takes the rows.</param>
    internal static void Write(int pairs, TextWriter output)
    {
        output.WriteLine("| runs of each, scatter of a run, figures, rows | "
            + string.Join(" | ", Ratios.Select(r => r.ToString("0.00", CultureInfo.InvariantCulture))) + " | power by exact |");
        output.WriteLine("|---|" + string.Concat(Enumerable.Repeat("---|", Ratios.Length + 1)));
        var exactShares = new Dictionary<PairsOfDesigns, VerdictShares>();
        var pools = new Dictionary<(double, RowKind), MeasuredCharges>();
        foreach (var (runs, scatter, figures, intervalS, gain, kind) in Designs)
        {
            MeasuredCharges? logs = null;
            if (intervalS > 0 && !pools.TryGetValue((intervalS, kind), out logs))
            {
                pools[(intervalS, kind)] = logs = MeasuredCharges.Of(intervalS, Logs, Seed, kind);
            }

            string meter = gain > 0 ? InvariantText.Of($", meter good to {100 * gain * Math.Sqrt(3):0.0} %") : "";
            string rows = intervalS == 0 ? "exact" : InvariantText.Of($"{intervalS} s{(kind == RowKind.Instantaneous ? "" : ", means")}");
            var text = new StringBuilder();
            text.Append(CultureInfo.InvariantCulture, $"| {runs}, {100 * scatter:0.0} %, {figures}, {rows}{meter} |");
            double power = 0, exact = 0;
            foreach (double ratio in Ratios)
            {
                var what = new PairsOfDesigns(ratio, runs, scatter, Margin, gain, figures) { Measured = logs };
                var shares = OperatingCharacteristics.Simulate(what, pairs, Seed);
                text.Append(CultureInfo.InvariantCulture, $" {100 * shares.Pass:0.0} / {100 * shares.Fail:0.0} |");
                if (logs is not null)
                {
                    var exactly = what with { Measured = null };
                    if (!exactShares.TryGetValue(exactly, out var known))
                    {
                        exactShares[exactly] = known = OperatingCharacteristics.Simulate(exactly, pairs, Seed);
                    }

                    power += ratio < 1 + Margin ? shares.Pass : ratio > 1 + Margin ? shares.Fail : 0;
                    exact += ratio < 1 + Margin ? known.Pass : ratio > 1 + Margin ? known.Fail : 0;
                }
            }

            text.Append(logs is null ? " – |" : InvariantText.Of($" {100 * power / exact:0} % |"));
            output.WriteLine(text);
            output.Flush();
        }
    }
}
