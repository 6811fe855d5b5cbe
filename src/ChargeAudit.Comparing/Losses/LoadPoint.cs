using ChargeAudit.Measuring.Alignment;
using ChargeAudit.Measuring.Integration;

namespace ChargeAudit.Comparing.Losses;

/// <summary>Input and output of an adapter at the same time, averaged over a stretch of steady load.</summary>
/// <param name="InW">Power in. [W]</param>
/// <param name="OutW">Power out. [W]</param>
/// <param name="OutV">Voltage out; zero where it was not logged. [V]</param>
internal readonly record struct LoadPoint(double InW, double OutW, double OutV);

/// <summary>Pairs the two logs of an adapter.</summary>
internal static class LoadPoints
{
    /// <summary>Means over windows in which the load was steady; a window in which it stepped would mix loads, and clocks that differ would
    /// spoil it.</summary>
    /// <param name="input">Log at the wall.</param>
    /// <param name="output">Log at the adapter's output.</param>
    /// <param name="clocks">How the output log's clock compares with the input's; null: they are the same.</param>
    /// <param name="fromS">Start, on the input's clock. [s]</param>
    /// <param name="toS">End. [s]</param>
    /// <param name="windowS">Length of a window; at least ten intervals between readings. [s]</param>
    public static IReadOnlyList<LoadPoint> Of(
        PowerEnvelope input, PowerEnvelope output, ClockAlignment? clocks, double fromS, double toS, double windowS = 60)
    {
        double length = Math.Max(windowS, 10 * Math.Max(input.BucketWidthS, output.BucketWidthS));
        var points = new List<LoadPoint>();
        for (double start = fromS; start + length <= toS; start += length)
        {
            double there = clocks?.ToOtherS(start) ?? start;
            double thereEnd = clocks?.ToOtherS(start + length) ?? start + length;
            double covered = output.CoveredBetweenS(there, thereEnd) - output.BridgedBetweenS(there, thereEnd);
            double coveredIn = input.CoveredBetweenS(start, start + length) - input.BridgedBetweenS(start, start + length);
            if (covered < 0.9 * length || coveredIn < 0.9 * length || !IsSteady(output, there, thereEnd))
            {
                continue;
            }

            double outV = output.VoltSecondsBetween(there, thereEnd) / covered;
            points.Add(new LoadPoint(
                input.EnergyBetweenJ(start, start + length) / coveredIn, output.EnergyBetweenJ(there, thereEnd) / covered, outV));
        }

        return points;
    }

    /// <summary>Whether the quarters of a window have about the same mean.</summary>
    private static bool IsSteady(PowerEnvelope envelope, double fromS, double toS)
    {
        double quarter = (toS - fromS) / 4;
        double least = double.PositiveInfinity;
        double greatest = double.NegativeInfinity;
        for (int i = 0; i < 4; i++)
        {
            double mean = envelope.EnergyBetweenJ(fromS + (i * quarter), fromS + ((i + 1) * quarter)) / quarter;
            least = Math.Min(least, mean);
            greatest = Math.Max(greatest, mean);
        }

        return greatest - least <= 0.1 * Math.Max(Math.Abs(greatest), 1e-9);
    }
}
