using MathNet.Numerics.Statistics;

namespace ChargeAudit.Measuring.Segmentation;

/// <summary>
/// Takes out a load of one size that is switched on and off, as a screen while the device charges: what is left is what the battery and the
/// charger draw, so a fall shows as one though the load makes power come back again and again. Pure.
/// </summary>
/// <remarks>
/// The size is the median of the rises, since power that falls rises only by the load. When it was on follows from the least total
/// variation of what is left: for each cell on or off, with a price for each change, by dynamic programming. A cell that holds part of a
/// change is passed over.
/// </remarks>
internal static class SwitchedLoad
{
    /// <summary>A rise stands out of the scatter by this multiple of it, and of the step of the readings. [1]</summary>
    private const double ClearOfNoise = 6;
    private const double ClearOfStep = 1.5;

    /// <summary>A change of this share of the threshold was written for its own sake. [1]</summary>
    private const double WrittenShare = 0.9;

    /// <summary>Rises of one load differ by no more than this share of it, and by so many changes that go unwritten. [1]</summary>
    private const double SameSize = 0.35;
    private const double SameByUnwritten = 1.5;

    /// <summary>So large a share of the rises is of one size. [1]</summary>
    private const double MostRises = 0.7;

    /// <summary>A change of the load costs this share of its size, so that a fall is not taken for one. [1]</summary>
    private const double PriceOfChange = 0.4;

    /// <summary>What is left varies by less than this share of what was there. [1]</summary>
    private const double LeftOver = 0.6;

    /// <summary>The series without the load between two times; null where there is none.</summary>
    /// <param name="fine">The finest cells.</param>
    /// <param name="fromS">Start of what is looked at. [s]</param>
    /// <param name="sizeFromS">From here on rises tell the load's size. [s]</param>
    /// <param name="toS">End. [s]</param>
    /// <param name="stepW">Step of the readings; zero for none. [W]</param>
    /// <param name="noiseW">Scatter of a reading. [W]</param>
    /// <param name="unwrittenW">A change that goes unwritten. [W]</param>
    public static PowerSeries? Without(
        PowerSeries fine, double fromS, double sizeFromS, double toS, double stepW, double noiseW, double unwrittenW)
    {
        int from = fine.IndexAt(fromS), end = Math.Min(fine.Count, fine.IndexAt(toS));
        int sizeFrom = Math.Clamp(fine.IndexAt(sizeFromS), from, Math.Max(from, end));
        double leastW = Math.Max(Math.Max(ClearOfNoise * noiseW, ClearOfStep * stepW), WrittenShare * unwrittenW);
        double sizeW = SizeW(fine.PowerW.AsSpan(sizeFrom, Math.Max(0, end - sizeFrom)), leastW, SameByUnwritten * unwrittenW);
        if (double.IsNaN(sizeW))
        {
            return null;
        }

        double[] power = fine.PowerW[from..end];
        double[] left = Left(power, sizeW);
        if (!(Variation(left) < LeftOver * Variation(power)))
        {
            return null;
        }

        double[] all = [.. fine.PowerW];
        left.CopyTo(all, from);
        return fine.With(all);
    }

    // Median of the rises, where most of them are of one size; NaN where there is no such load. [W]
    private static double SizeW(ReadOnlySpan<double> power, double leastW, double toleranceW)
    {
        var rises = new List<double>();
        for (int i = 1; i < power.Length;)
        {
            int from = i;
            while (i < power.Length && power[i] > power[i - 1])
            {
                i++;
            }

            if (i > from && power[i - 1] - power[from - 1] is var rise && rise > leastW)
            {
                rises.Add(rise);
            }

            i = Math.Max(i, from + 1);
        }

        if (rises.Count == 0)
        {
            return double.NaN;
        }

        double size = rises.Median();
        int alike = rises.Count(r => Math.Abs(r - size) <= (SameSize * size) + toleranceW);
        return alike >= MostRises * rises.Count ? size : double.NaN;
    }

    // Least total variation over the two states of each cell; a change may pass over one cell.
    private static double[] Left(double[] power, double sizeW)
    {
        int n = power.Length;
        var cost = new double[n, 2];
        var came = new (int From, int State)[n, 2];
        for (int i = 0; i < n; i++)
        {
            for (int on = 0; on < 2; on++)
            {
                cost[i, on] = i == 0 ? 0 : double.PositiveInfinity;
                for (int back = 1; back <= Math.Min(2, i); back++)
                {
                    for (int was = back == 2 ? 1 - on : 0; was < (back == 2 ? 2 - on : 2); was++)
                    {
                        double price = (was == on ? 0 : PriceOfChange * sizeW)
                            + Math.Abs(power[i] - power[i - back] - ((on - was) * sizeW));
                        if (cost[i - back, was] + price < cost[i, on])
                        {
                            cost[i, on] = cost[i - back, was] + price;
                            came[i, on] = (i - back, was);
                        }
                    }
                }
            }
        }

        var left = new double[n];
        int state = n > 0 && cost[n - 1, 1] < cost[n - 1, 0] ? 1 : 0;
        for (int i = n - 1; i >= 0;)
        {
            left[i] = power[i] - (state * sizeW);
            var (before, was) = i > 0 ? came[i, state] : (-1, state);
            if (before == i - 2)
            {
                left[i - 1] = 0.5 * (left[i] + power[before] - (was * sizeW));
            }

            (i, state) = (before, was);
        }

        return left;
    }

    private static double Variation(double[] power)
    {
        double sum = 0;
        for (int i = 1; i < power.Length; i++)
        {
            sum += Math.Abs(power[i] - power[i - 1]);
        }

        return sum;
    }
}
