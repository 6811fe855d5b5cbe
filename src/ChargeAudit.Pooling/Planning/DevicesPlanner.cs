using ChargeAudit.Metrology.Statistics;
using ChargeAudit.Pooling.RandomEffects;

namespace ChargeAudit.Pooling.Planning;

/// <summary>What is wanted of a pool, and what is known before.</summary>
/// <param name="OfAnotherDevice">Whether it is the interval for another device that is to be so narrow; else that of the mean.</param>
/// <param name="Within">The half-width wanted, as a share of the overhead ratio. [1]</param>
/// <param name="Spread">Expected spread of the ratio between devices, as a share. [1]</param>
/// <param name="Repeatability">Scatter of a single run, as a share. [1]</param>
/// <param name="CostPerRun">Cost of a run, in any currency.</param>
/// <param name="CostPerDevice">Cost of having a device, likewise.</param>
public sealed record DevicesAim(bool OfAnotherDevice, double Within, double Spread, double Repeatability, double CostPerRun,
    double CostPerDevice);

/// <summary>One way to reach it.</summary>
/// <param name="Runs">Runs of each method with each device. [1]</param>
/// <param name="Devices">Devices. [1]</param>
/// <param name="HalfWidth">The half-width reached if spread and scatter come out as expected. [1]</param>
/// <param name="Cost">Cost of all.</param>
public sealed record DevicesChoice(int Runs, int Devices, double HalfWidth, double Cost);

/// <summary>
/// How many devices and how many runs of each an answer over devices needs. An audit's ratio has the variance 2s²/r from r runs of each of
/// two methods; the mean has Student's t with one degree of freedom fewer than there are devices, the interval for another device with two
/// fewer. A meter's gain cancels in the ratio.
/// </summary>
public static class DevicesPlanner
{
    private const int MostRuns = 10;
    private const int MostDevices = 2000;
    private const double Coverage = 0.95;

    /// <summary>The ways to reach it, the cheapest first; none where no number of devices will do.</summary>
    /// <param name="aim">What is wanted.</param>
    public static IReadOnlyList<DevicesChoice> Choices(DevicesAim aim)
    {
        ArgumentNullException.ThrowIfNull(aim);
        var choices = new List<DevicesChoice>();
        for (int runs = 2; runs <= MostRuns; runs++)
        {
            // More runs that save no device only add to the cost.
            if (Devices(aim, runs) is { } devices && choices.TrueForAll(c => devices < c.Devices))
            {
                choices.Add(new DevicesChoice(runs, devices, HalfWidth(aim, runs, devices), devices
                    * (aim.CostPerDevice + (2 * runs * aim.CostPerRun))));
            }
        }

        return [.. choices.OrderBy(c => c.Cost).ThenBy(c => c.Devices * c.Runs)];
    }

    /// <summary>The half-width with this many runs and devices.</summary>
    private static double HalfWidth(DevicesAim aim, int runs, int devices)
    {
        double spread = aim.Spread * aim.Spread, ofMean = (spread + (2 * aim.Repeatability * aim.Repeatability / runs)) / devices;
        return aim.OfAnotherDevice
            ? PredictionInterval.ByStudent(0, ofMean, spread, devices - 2, Coverage).High
            : StudentDistribution.TwoSidedFactor(Coverage, devices - 1) * Math.Sqrt(ofMean);
    }

    // The half-width falls with every further device.
    private static int? Devices(DevicesAim aim, int runs)
    {
        int low = FigurePooler.LeastDevices - 1, high = MostDevices;
        if (HalfWidth(aim, runs, high) > aim.Within)
        {
            return null;
        }

        while (high - low > 1)
        {
            int middle = (low + high) / 2;
            (low, high) = HalfWidth(aim, runs, middle) > aim.Within ? (middle, high) : (low, middle);
        }

        return high;
    }
}
