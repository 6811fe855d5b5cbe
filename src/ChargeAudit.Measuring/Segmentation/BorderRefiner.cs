using ChargeAudit.Metrology.Statistics;

namespace ChargeAudit.Measuring.Segmentation;

/// <summary>A border with its standard uncertainty.</summary>
/// <param name="TimeS">Where. [s]</param>
/// <param name="UncertaintyS">Standard uncertainty. [s]</param>
internal readonly record struct Border(double TimeS, double UncertaintyS);

/// <summary>Finds a border again on the finest cells, around where the coarse cells put it.</summary>
/// <param name="fine">The finest cells.</param>
/// <param name="floorW2">Least variance of a stretch. [W²]</param>
/// <param name="intervalS">Usual interval between rows. [s]</param>
/// <param name="noiseW">Scatter of a reading where the log is quietest. [W]</param>
/// <param name="stepsLieBetweenRows">Whether a sudden step lies between the two rows that show it.</param>
internal sealed class BorderRefiner(PowerSeries fine, double floorW2, double intervalS, double noiseW, bool stepsLieBetweenRows = false)
{
    /// <summary>A rise has arrived at this share of the level it leads to. [1]</summary>
    private const double ShoulderShare = 0.8;

    /// <summary>A first stage stands at least this share of the way from waiting to the charge, and lasts at least this long: a pulse of
    /// the waiting charger is shorter. [1], [s]</summary>
    public const double StageShare = 0.08;
    public const double LeastStageS = 5;

    /// <summary>The likeliest place of a change between two times, and how certain that is.</summary>
    /// <param name="fromS">The change lies after this. [s]</param>
    /// <param name="toS">The change lies before this. [s]</param>
    /// <param name="coarseS">Where coarse cells put it. [s]</param>
    /// <param name="rises">Whether power goes up there.</param>
    public Border Refine(double fromS, double toS, double coarseS, bool rises)
    {
        int from = Math.Clamp(fine.IndexAt(fromS), 0, fine.Count);
        int to = Math.Clamp(fine.IndexAt(toS - (1e-6 * fine.WidthS)) + 1, from, fine.Count);
        if (to - from < 4)
        {
            return new Border(coarseS, Math.Max(intervalS, fine.WidthS) / Math.Sqrt(3));
        }

        var cost = new SegmentCost(fine.PowerW.AsSpan(from, to - from), floorW2, fine.ReadingsPerCell);
        var costs = new double[to - from + 1];
        int best = from + 1;
        double least = double.PositiveInfinity;
        for (int split = from + 1; split < to; split++)
        {
            double total = cost.Of(0, split - from) + cost.Of(split - from, to - from);
            costs[split - from] = total;
            if (total < least)
            {
                least = total;
                best = split;
            }
        }

        // The profile of the likelihood as a distribution over places gives the statistical part of the uncertainty.
        double weightSum = 0;
        double first = 0;
        double second = 0;
        for (int split = from + 1; split < to; split++)
        {
            double weight = Math.Exp(-0.5 * (costs[split - from] - least));
            double away = fine.StartS[split] - fine.StartS[best];
            weightSum += weight;
            first += weight * away;
            second += weight * away * away;
        }

        double statistical = Math.Sqrt(Math.Max(0, (second / weightSum) - Math.Pow(first / weightSum, 2)));
        var (border, isSudden) = Foot(from, best, to, rises);
        double sampling = Math.Max(intervalS, fine.WidthS) / Math.Sqrt(12);
        double gap = border.UncertaintyS;

        // A mean in which power stepped stands between the two levels, as does the line between two instantaneous readings, so the
        // likelihood cannot tell to which side it belongs; but the step lies there.
        statistical = stepsLieBetweenRows && isSudden ? 0 : statistical;
        return border with { UncertaintyS = Math.Sqrt((statistical * statistical) + (sampling * sampling) + (gap * gap)) };
    }

    /// <summary>
    /// The start of a charge with a short first stage, such as the seconds in which charger and device agree on more power: power stands
    /// clear of waiting all the time from there to where the charge was found to start. Null where there is no such stage, of at least
    /// three readings.
    /// </summary>
    /// <param name="foundS">Where the charge was found to start. [s]</param>
    /// <param name="fromS">The stage starts after this. [s]</param>
    /// <param name="lowW">Level of waiting. [W]</param>
    /// <param name="highW">Level of the charge. [W]</param>
    public Border? WithFirstStage(double foundS, double fromS, double lowW, double highW)
    {
        int end = Math.Clamp(fine.IndexAt(foundS + (0.01 * fine.WidthS)), 0, fine.Count);
        int earliest = Math.Clamp(fine.IndexAt(fromS), 0, end);
        double clear = lowW + Math.Max(StageShare * (highW - lowW), 6 * noiseW);
        int start = end;
        while (start > earliest && fine.PowerW[start - 1] > clear)
        {
            start--;
        }

        double length = start < end ? fine.EndS(end - 1) - fine.StartS[start] : 0;
        bool isStage = start > earliest && length >= Math.Max(LeastStageS, 3 * intervalS);
        return isStage
            ? Refine(Math.Max(fromS, fine.StartS[start] - Math.Max(60, 12 * intervalS)), foundS, fine.StartS[start], rises: true)
            : null;
    }

    /// <summary>
    /// The start of a charge after attempts: where power falls back to the waiting level within the length of the shortest charge, what
    /// came before was an attempt, and the charge starts after it. Null where there was no attempt.
    /// </summary>
    /// <param name="fromS">Where power first rises. [s]</param>
    /// <param name="lowW">Level of waiting. [W]</param>
    /// <param name="highW">Level of the charge. [W]</param>
    /// <param name="leastS">Length of the shortest charge. [s]</param>
    /// <param name="untilS">Where the coarse cells put the start: power that falls back before it was an attempt or a pulse, however long
    /// it lasted. [s]</param>
    public Border? BehindAttempts(double fromS, double lowW, double highW, double leastS, double untilS)
    {
        double threshold = lowW + (0.25 * (highW - lowW));
        int start = Math.Clamp(fine.IndexAt(fromS), 0, fine.Count - 1);
        bool wasHigh = false;
        int firstLow = -1;
        for (int i = start; i < fine.Count && fine.StartS[i] < Math.Max(fine.StartS[start] + leastS, untilS); i++)
        {
            bool high = fine.PowerW[i] >= threshold;
            if (wasHigh && !high)
            {
                firstLow = i;
                while (i + 1 < fine.Count && fine.PowerW[i + 1] < threshold)
                {
                    i++;
                }

                start = i;
            }

            wasHigh = high;
        }

        if (firstLow < 0 || start + 1 >= fine.Count)
        {
            return null;
        }

        double foot = lowW + Math.Max(4 * noiseW, 0.02 * (highW - lowW));
        int edge = start;
        while (edge > firstLow && fine.PowerW[edge] > foot && fine.PowerW[edge - 1] < fine.PowerW[edge])
        {
            edge--;
        }

        double sampling = Math.Max(intervalS, fine.WidthS);
        double ramp = fine.EndS(start) - fine.EndS(edge);
        return new Border(fine.EndS(edge), Math.Sqrt((sampling * sampling / 12) + (ramp * ramp / 3)));
    }

    /// <summary>
    /// The foot of a step that takes its time: from the likeliest place towards the lower side, as long as power stands clear of the lower
    /// level. Between two readings a log runs in a straight line, so the border lies at the edge of a cell. And whether it is a sudden
    /// step.
    /// </summary>
    private (Border Border, bool IsSudden) Foot(int from, int best, int to, bool rises)
    {
        const double LongestRampS = 60;
        int edge = best;
        for (int pass = 0; pass < 3; pass++)
        {
            double limit = rises ? Clear(from, edge) : Clear(edge, to);
            int before = edge;
            if (rises)
            {
                while (edge - 2 > from && fine.StartS[best] - fine.StartS[edge] < LongestRampS && fine.PowerW[edge - 1] > limit)
                {
                    edge--;
                }
            }
            else
            {
                while (edge + 2 < to && fine.StartS[edge] - fine.StartS[best] < LongestRampS && fine.PowerW[edge] > limit)
                {
                    edge++;
                }
            }

            if (edge == before)
            {
                break;
            }
        }

        double earlier = fine.EndS(edge - 1);
        double later = fine.StartS[edge];
        double? area = later - earlier < fine.WidthS ? EqualArea(from, edge, to, rises) : null;

        // Where the border left the likeliest place, it may lie anywhere on the ramp between, at the end of which it is put.
        double ramp = stepsLieBetweenRows && area is not null
            ? 0
            : Math.Max(Math.Abs(fine.StartS[edge] - fine.StartS[best]), rises ? ShoulderS(edge, to) : 0);
        double gap = later - earlier;
        return (new Border((0.5 * (earlier + later)) + (area ?? 0), Math.Sqrt((gap * gap / 12) + (ramp * ramp / 3))), area is not null);
    }

    /// <summary>
    /// How far from the foot a sudden step lies: where a step between the two levels would give the energy that the cells in between have.
    /// An average over an interval shows that place exactly; between two instantaneous readings it is the middle. Null for a step that
    /// takes its time. [s]
    /// </summary>
    private double? EqualArea(int from, int edge, int to, bool rises)
    {
        int reach = 1 + (int)Math.Ceiling(2 * intervalS / fine.WidthS);
        int towards = rises ? 1 : -1;
        int first = rises ? edge : edge - 1;
        int end = first + (towards * reach);
        if (end - 3 < from || end + 3 > to)
        {
            return null;
        }

        double low = rises ? fine.MedianW(Math.Max(from, edge - (4 * reach)), edge) : fine.MedianW(edge, Math.Min(to, edge + (4 * reach)));
        double high = rises ? fine.MedianW(end, Math.Min(to, end + (2 * reach) + 2))
            : fine.MedianW(Math.Max(from, end - (2 * reach) - 1), end + 1);
        double area = 0;
        for (int i = first; i != end; i += towards)
        {
            double share = (high - fine.PowerW[i]) / (high - low);
            if (share < 0.1)
            {
                return high - low > 6 * noiseW ? towards * area : null;
            }

            area += share * fine.WidthS;
        }

        return null;
    }

    /// <summary>How long a rise stands well below where it leads to, beyond one interval: attempts between two readings look like that.
    /// [s]</summary>
    private double ShoulderS(int edge, int to)
    {
        double high = fine.MedianW(edge, to);
        int end = edge;
        while (end < to && fine.PowerW[end] < ShoulderShare * high)
        {
            end++;
        }

        return Math.Max(0, fine.StartS[Math.Min(end, to - 1)] - fine.StartS[edge] - intervalS - fine.WidthS);
    }

    /// <summary>Power clearly above a level: its median and four standard deviations, both such that a ramp or pulses among the cells do
    /// not count. [W]</summary>
    private double Clear(int from, int to)
    {
        double median = fine.MedianW(from, to);
        return median + (4 * Math.Max(HighMedian.Scatter(fine.PowerW.AsSpan(from, to - from), median), noiseW));
    }
}
