using System.Globalization;
using ChargeAudit.Metrology;
using ChargeAudit.Pooling.Results;
using ChargeAudit.Tests.Pooling;

namespace ChargeAudit.Benchmarks;

/// <summary><c>pool [pools [seed ROW…]]</c>: how often the intervals of a pool hold, over simulated pools; the table of docs/pool.md, or some
/// of its rows by another seed, each written as <c>figure/meter/devices/spread</c>, as in <c>energy/one/5/0.1</c>.</summary>
internal static class PoolCommand
{
    private const ulong Seed = 20_270_104;
    private const int LeastPools = 50;

    public static int Run(string[] arguments, TextWriter output)
    {
        int pools = 1000;
        ulong seed = Seed;
        if ((arguments.Length > 0 && !int.TryParse(arguments[0], NumberStyles.None, CultureInfo.InvariantCulture, out pools))
            || (arguments.Length > 1 && !ulong.TryParse(arguments[1], NumberStyles.None, CultureInfo.InvariantCulture, out seed))
            || pools < LeastPools)
        {
            output.WriteLine(
                $"pool takes the number of simulated pools a case, at least {LeastPools}, and then a seed and rows such as energy/one/5/0.1.");
            return 64;
        }

        output.WriteLine(
            "| figure | meter | devices | spread | mean | another device | next measurement | spread's interval | width of the mean | "
            + "width for another device |");
        output.WriteLine("|---|---|---:|---:|---:|---:|---:|---:|---:|---:|");
        foreach (var (figure, oneMeter) in new[] { (PoolFigure.OverheadRatio, true), (PoolFigure.EnergyPerCharge, true),
            (PoolFigure.EnergyPerCharge, false) })
        {
            string name = figure == PoolFigure.OverheadRatio ? "overhead" : "energy";
            foreach (int devices in new[] { 3, 5, 10, 20 })
            {
                foreach (double spread in new[] { 0, 0.005, 0.01, 0.03, 0.1 })
                {
                    string row = InvariantText.Of($"{name}/{(oneMeter ? "one" : "own")}/{devices}/{spread:R}");
                    if (arguments.Length > 2 && Array.IndexOf(arguments, row, 2) < 0)
                    {
                        continue;
                    }

                    var s = PoolCoverage.Simulate(new PoolTruth(devices, spread, oneMeter), figure, pools, seed);
                    output.WriteLine(
                        InvariantText.Of(
                            $"| {name} | {(oneMeter ? "one" : "each its own")} | "
                        + $"{devices} | {100 * spread:0.#} % | {100 * s.Mean:0.0} | {100 * s.Device:0.0} | {100 * s.Measurement:0.0} | "
                        + $"{100 * s.Spread:0.0} | {s.MeanWidth:0.00} | {s.DeviceWidth:0.00} |"));
                }
            }
        }

        return 0;
    }
}
