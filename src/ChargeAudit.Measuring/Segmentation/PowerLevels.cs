using System.Runtime.InteropServices;
using ChargeAudit.Measuring.Integration;
using ChargeAudit.Metrology.Statistics;

namespace ChargeAudit.Measuring.Segmentation;

/// <summary>Noise, lattice and levels that a log shows by itself.</summary>
/// <param name="NoiseW">Standard deviation of a reading where the log is quietest. [W]</param>
/// <param name="StepW">Step of the lattice of its readings; zero where there is none. [W]</param>
/// <param name="PlateauW">Greatest power kept up for the shortest charge. [W]</param>
/// <param name="LowestW">Lowest level of a stretch. [W]</param>
/// <param name="ApartW">How far apart neighbouring readings are where they lie on a lattice, be it of two values only; else zero.
/// [W]</param>
internal sealed record PowerLevels(double NoiseW, double StepW, double PlateauW, double LowestW, double ApartW = 0)
{
    private const int Block = 16;

    /// <summary>Where no single stretch lies below this share of the plateau, neighbours are looked at together. [1]</summary>
    private const double ClearlyBelow = 0.5;

    /// <summary>A change that goes unwritten in a log that is written on change; else zero. [W]</summary>
    public double UnwrittenW { get; init; }

    /// <summary>Above this a stretch is looked at as a charge. [W]</summary>
    public double ChargeAboveW => LowestW + (0.25 * (PlateauW - LowestW));

    /// <summary>Scatter of a reading where the log is quietest, from the differences of neighbouring cells. [W]</summary>
    public static double Noise(ReadOnlySpan<double> powerW)
    {
        var blocks = new List<double>();
        var differences = new double[Block - 1];
        for (int from = 0; from + Block <= powerW.Length; from += Block)
        {
            for (int i = 0; i < differences.Length; i++)
            {
                differences[i] = Math.Abs(powerW[from + i + 1] - powerW[from + i]);
            }

            RisingOrder.Sort(differences);

            // The median of |difference| is 0.6745·√2 of the standard deviation for Gaussian noise; robust against single steps and pulses.
            blocks.Add(differences[differences.Length / 2] / (0.6745 * Math.Sqrt(2)));
        }

        RisingOrder.Sort(CollectionsMarshal.AsSpan(blocks));
        return blocks.Count == 0 ? 0 : blocks[blocks.Count / 4];
    }

    /// <summary>Step of the lattice on which the readings lie, zero where they lie on none, and how far apart two neighbouring readings
    /// are. [W]</summary>
    /// <remarks>Two values are a whole step apart whatever they are: a log that goes from 0 W to one power and back shows no
    /// lattice.</remarks>
    public static (double StepW, double ApartW) Step(PowerEnvelope envelope)
    {
        var (apart, range) = Lattice(envelope);
        return (range > 1.5 * apart ? apart : 0, apart);
    }

    private static (double ApartW, double RangeW) Lattice(PowerEnvelope envelope)
    {
        // Twice over the cells and no copy of them: they are many, and memory that is touched for the first time costs more than reading
        // them again.
        double step = double.PositiveInfinity;
        double previous = double.NaN;
        int seen = 0;
        for (int i = 0; i < envelope.Count; i++)
        {
            ref readonly var cell = ref envelope[i];
            if (cell.Readings > 0)
            {
                step = Math.Min(step, Math.Min(Apart(previous, cell.MinPowerW), Apart(cell.MinPowerW, cell.MaxPowerW)));
                previous = cell.MaxPowerW;
                seen += 2;
            }
        }

        if (double.IsPositiveInfinity(step))
        {
            return (0, 0);
        }

        int onLattice = 0;
        double least = double.PositiveInfinity, most = double.NegativeInfinity;
        for (int i = 0; i < envelope.Count; i++)
        {
            ref readonly var cell = ref envelope[i];
            if (cell.Readings > 0)
            {
                onLattice += (IsOnLattice(cell.MinPowerW, step) ? 1 : 0) + (IsOnLattice(cell.MaxPowerW, step) ? 1 : 0);
                least = Math.Min(least, cell.MinPowerW);
                most = Math.Max(most, cell.MaxPowerW);
            }
        }

        return onLattice >= 0.98 * seen ? (step, most - least) : (0, 0);
    }

    // Infinite for values that differ by their rounding alone, or where there is none before.
    private static double Apart(double before, double value)
    {
        double difference = Math.Abs(value - before);
        return difference > 1e-9 * Math.Max(1, Math.Abs(value)) ? difference : double.PositiveInfinity;
    }

    private static bool IsOnLattice(double value, double step)
    {
        double multiple = value / step;
        return Math.Abs(multiple - Math.Round(multiple)) < 0.02;
    }

    /// <summary>
    /// Share of the minutes (or tens of readings, where they come less often) in which a reading stands above the mean by more than a fifth
    /// of it, and by more than twice as much as any lies below it: the pulses of a charger that waits. [1]
    /// </summary>
    /// <param name="envelope">Power over time.</param>
    /// <param name="coarser">The same in fewer cells, from which the minutes are made where it has enough of them.</param>
    /// <param name="intervalS">Usual interval between rows. [s]</param>
    public static double PulsedShare(PowerEnvelope envelope, PowerEnvelope coarser, double intervalS)
    {
        int count = Math.Max(1, (int)(envelope.Count * envelope.BucketWidthS / Math.Max(60, 10 * intervalS)));
        var minutes = (coarser.Count >= count ? coarser : envelope).Reduced(count);
        int pulsed = 0;
        int seen = 0;
        for (int i = 0; i < minutes.Count; i++)
        {
            ref readonly var minute = ref minutes[i];
            if (minute.Readings < 5)
            {
                continue;
            }

            seen++;
            double mean = minute.MeanPowerW;
            double up = minute.MaxPowerW - mean;
            pulsed += up > Math.Max(0.2 * Math.Abs(mean), 2 * (mean - minute.MinPowerW)) ? 1 : 0;
        }

        return seen == 0 ? 0 : (double)pulsed / seen;
    }

    /// <summary>Greatest mean over a window of the given length. [W]</summary>
    public static double Sustained(PowerSeries series, double windowS)
    {
        int cells = Math.Clamp((int)Math.Round(windowS / series.WidthS), 1, Math.Max(1, series.Count));
        double sum = 0;
        double greatest = double.NegativeInfinity;
        for (int i = 0; i < series.Count; i++)
        {
            sum += series.PowerW[i];
            if (i >= cells)
            {
                sum -= series.PowerW[i - cells];
            }

            if (i >= cells - 1)
            {
                greatest = Math.Max(greatest, sum / cells);
            }
        }

        return greatest;
    }

    /// <summary>Lowest level that lasts: of one stretch, or of several that lie together where readings are so quiet that a fall, or a
    /// level that wanders a little, comes to many short ones. [W]</summary>
    public static double Lowest(IReadOnlyList<PowerSegment> segments, double leastS, double plateauW)
    {
        double any = segments.Min(s => s.MeanW);
        double lowest = segments.Where(s => s.DurationS >= leastS).Select(s => s.MeanW).DefaultIfEmpty(double.PositiveInfinity).Min();
        if (lowest > ClearlyBelow * plateauW)
        {
            lowest = Math.Min(lowest, LowestTogether(segments, leastS));
        }

        return Math.Max(0, double.IsPositiveInfinity(lowest) ? any : lowest);
    }

    // Least mean of neighbouring stretches that last for long enough together.
    private static double LowestTogether(IReadOnlyList<PowerSegment> segments, double leastS)
    {
        double lowest = double.PositiveInfinity, energyJ = 0, lengthS = 0;
        for (int from = 0, to = 0; to < segments.Count; to++)
        {
            energyJ += segments[to].MeanW * segments[to].DurationS;
            lengthS += segments[to].DurationS;
            while (lengthS - segments[from].DurationS >= leastS)
            {
                energyJ -= segments[from].MeanW * segments[from].DurationS;
                lengthS -= segments[from++].DurationS;
            }

            lowest = lengthS >= leastS ? Math.Min(lowest, energyJ / lengthS) : lowest;
        }

        return lowest;
    }
}
