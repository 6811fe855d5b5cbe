namespace ChargeAudit.Measuring.Integration;

/// <summary>
/// Tells bad readings of a counter from resets. A counter only rises. Where readings fall, the fewest of them that stand in the way of a
/// rising track are bad; a fall that could be explained only by more bad readings than the look-ahead holds is one of the counter itself.
/// Readings that rise regularly from near zero are a counter that was reset, however few they are; a single one is a bad reading. Pure
/// functions.
/// </summary>
internal static class CounterJudge
{
    /// <summary>This many readings in a row may be bad; where there are more, it is the counter itself that fell.</summary>
    public const int LookAhead = 32;

    /// <summary>Near zero after a fall: at most this share of what it fell from. [1]</summary>
    private const double NearZeroShare = 0.02;

    /// <summary>Near zero after a fall: at most this many times the greatest regular rise. [1]</summary>
    private const double NearZeroRises = 1.5;

    /// <summary>A rise of more than this many times the greatest regular one does not go on from where the counter was. [1]</summary>
    private const double Irregular = 3;

    /// <summary>A rise at an end of the log that is this many times faster than any other comes from, or leads to, a bad reading.
    /// [1]</summary>
    public const double Wild = 20;

    /// <summary>From nothing, and before readings that hardly rise, this many times suffice: there the log waits, and no charge ran.
    /// [1]</summary>
    private const double WildFromNothing = 2.2;
    private const double HardlyRises = 0.1;
    private const int Waiting = 3;
    private const int LeastSteps = 4;

    /// <summary>This many readings that rise regularly are not bad ones: the counter fell. [1]</summary>
    private const int LeastClimb = 4;

    /// <summary>Readings on either side that tell the counter's rate. [1]</summary>
    private const int Beside = 8;

    /// <summary>At an end of the log at most this many readings are judged by a wild rise alone.</summary>
    public const int MostAtEnd = 8;

    /// <summary>The log may end where a top-up begins; no device takes more than this for one. [W]</summary>
    public const double Strong = 300;

    /// <summary>Judges readings that follow one another.</summary>
    /// <param name="rows">Readings; the first and the last are good, but at an end of the log.</param>
    /// <param name="startsLog">Whether the first is the log's first.</param>
    /// <param name="endsLog">Whether the last is the log's last.</param>
    /// <param name="mostW">More than any charger takes: a rise that needs more is not an advance. [W]</param>
    public static CounterVerdict[] Judge(ReadOnlySpan<CounterReading> rows, bool startsLog, bool endsLog, double mostW)
    {
        var verdicts = new CounterVerdict[rows.Length];
        if (rows.Length < 2)
        {
            return verdicts;
        }

        MarkFewest(rows, startsLog, endsLog, verdicts);
        double regular = GreatestRegularRise(rows, verdicts);
        TakeBackResets(rows, verdicts, regular);
        if (startsLog)
        {
            MarkWildStart(rows, verdicts, mostW);
        }

        if (endsLog)
        {
            MarkWildEnd(rows, verdicts, mostW);
        }

        NameFalls(rows, verdicts, regular);
        return verdicts;
    }

    // The cheapest track through the readings: one for each that is left out, more than the look-ahead for a fall. Of equal ones that with
    // the latest readings.
    private static void MarkFewest(ReadOnlySpan<CounterReading> rows, bool startsLog, bool endsLog, CounterVerdict[] verdicts)
    {
        int n = rows.Length;
        var cost = new int[n];
        var from = new int[n];
        for (int j = 0; j < n; j++)
        {
            cost[j] = startsLog || j == 0 ? j : int.MaxValue;
            from[j] = -1;
            for (int i = 0; i < j; i++)
            {
                if (cost[i] == int.MaxValue)
                {
                    continue;
                }

                int through = cost[i] + (j - i - 1) + (rows[j].ReadingJ < rows[i].ReadingJ ? LookAhead : 0);
                if (through <= cost[j])
                {
                    (cost[j], from[j]) = (through, i);
                }
            }
        }

        int last = n - 1;
        for (int j = 0; endsLog && j < n; j++)
        {
            last = cost[j] + (n - 1 - j) <= cost[last] + (n - 1 - last) ? j : last;
        }

        Array.Fill(verdicts, CounterVerdict.Bad);
        for (int j = last; j >= 0; j = from[j])
        {
            verdicts[j] = CounterVerdict.Good;
        }
    }

    // A counter that is reset while it still shows little is soon back at where it was: that is not a dip, as it rises all the way.
    private static void TakeBackResets(ReadOnlySpan<CounterReading> rows, CounterVerdict[] verdicts, double regular)
    {
        int i = 0;
        while (i < rows.Length)
        {
            if (verdicts[i] != CounterVerdict.Bad)
            {
                i++;
                continue;
            }

            int end = i;
            while (end < rows.Length && verdicts[end] == CounterVerdict.Bad)
            {
                end++;
            }

            if ((end - i >= 2 && GoesOn(rows, i, end, regular)) || Climbs(rows, i, end, regular))
            {
                Array.Fill(verdicts, CounterVerdict.Good, i, end - i);
            }

            i = end;
        }
    }

    // Whether readings from i up to end belong to a counter that was reset before or after them.
    private static bool GoesOn(ReadOnlySpan<CounterReading> rows, int i, int end, double regular)
    {
        for (int k = i + 1; k < end; k++)
        {
            if (rows[k].ReadingJ < rows[k - 1].ReadingJ)
            {
                return false;
            }
        }

        bool entersByReset = i > 0 && rows[i].ReadingJ < rows[i - 1].ReadingJ && IsNearZero(rows, i, regular);
        bool leavesByReset = end < rows.Length && rows[end].ReadingJ < rows[end - 1].ReadingJ && IsNearZero(rows, end, regular);
        bool entersOn = i == 0 || IsRegular(rows, i, regular);
        bool leavesOn = end == rows.Length || IsRegular(rows, end, regular);
        return (entersByReset && (leavesOn || leavesByReset)) || (leavesByReset && entersOn);
    }

    // Whether readings from i up to end, and their joints with the others, rise regularly but for one fall: then they are not bad ones, but
    // the counter fell there. A dip comes back by a leap, to where the counter would be by then.
    private static bool Climbs(ReadOnlySpan<CounterReading> rows, int i, int end, double regular)
    {
        bool atEnd = i == 0 || end == rows.Length;
        if (end - i < (atEnd ? MostAtEnd + 1 : LeastClimb))
        {
            return false;
        }

        // What rises faster than the readings around, as a charge does beside waiting, is regular where it does so more than once.
        double greatest = 0, second = 0;
        int fall = -1;
        for (int k = Math.Max(1, i); k <= Math.Min(end, rows.Length - 1); k++)
        {
            double rise = rows[k].ReadingJ - rows[k - 1].ReadingJ;
            (greatest, second) = rise > greatest ? (rise, greatest) : (greatest, Math.Max(second, rise));
            if (rise < 0 && fall >= 0)
            {
                return false;
            }

            fall = rise < 0 ? k : fall;
        }

        regular = Math.Max(regular, second);
        if (fall < 0 || greatest > Irregular * regular)
        {
            return false;
        }

        if (fall > i || IsNearZero(rows, fall, regular) || end == rows.Length)
        {
            return true;
        }

        double rateW = RateW(rows, end, Math.Min(rows.Length - 1, end + Beside));
        double asDip = Math.Abs(rows[end].ReadingJ - rows[i - 1].ReadingJ - (rateW * (rows[end].TimeS - rows[i - 1].TimeS)));
        double asFall = Math.Abs(rows[end].ReadingJ - rows[i].ReadingJ - (rateW * (rows[end].TimeS - rows[i].TimeS)));
        return asDip > Irregular * regular && asFall < 0.4 * asDip;
    }

    private static double RateW(ReadOnlySpan<CounterReading> rows, int from, int to) =>
        to > from && rows[to].TimeS > rows[from].TimeS
            ? (rows[to].ReadingJ - rows[from].ReadingJ) / (rows[to].TimeS - rows[from].TimeS)
            : 0;

    private static bool IsRegular(ReadOnlySpan<CounterReading> rows, int at, double regular)
    {
        double rise = rows[at].ReadingJ - rows[at - 1].ReadingJ;
        return rise >= 0 && rise <= Irregular * regular;
    }

    private static bool IsNearZero(ReadOnlySpan<CounterReading> rows, int at, double regular) =>
        rows[at].ReadingJ <= Math.Max(NearZeroShare * rows[at - 1].ReadingJ, NearZeroRises * regular);

    // Between readings that are good beside each other.
    private static double GreatestRegularRise(ReadOnlySpan<CounterReading> rows, CounterVerdict[] verdicts)
    {
        double greatest = 0;
        for (int i = 1; i < rows.Length; i++)
        {
            bool good = verdicts[i] == CounterVerdict.Good && verdicts[i - 1] == CounterVerdict.Good;
            greatest = good ? Math.Max(greatest, rows[i].ReadingJ - rows[i - 1].ReadingJ) : greatest;
        }

        return greatest;
    }

    // The log may begin with a stray reading: nothing falls there.
    private static void MarkWildStart(ReadOnlySpan<CounterReading> rows, CounterVerdict[] verdicts, double mostW)
    {
        var good = Good(verdicts);
        for (int k = Math.Min(MostAtEnd, good.Count - 1); k >= 1; k--)
        {
            bool nearZero = rows[good[k - 1]].ReadingJ <= NearZeroShare * rows[good[k]].ReadingJ;
            if (nearZero && (IsWild(rows, good, k, mostW, 0) || IsWildFromNothing(rows, good, k)))
            {
                for (int i = 0; i < k; i++)
                {
                    verdicts[good[i]] = CounterVerdict.Bad;
                }

                return;
            }
        }
    }

    private static void MarkWildEnd(ReadOnlySpan<CounterReading> rows, CounterVerdict[] verdicts, double mostW)
    {
        var good = Good(verdicts);
        for (int k = Math.Max(1, good.Count - MostAtEnd); k < good.Count; k++)
        {
            if (IsWild(rows, good, k, mostW, Strong))
            {
                for (int i = k; i < good.Count; i++)
                {
                    verdicts[good[i]] = CounterVerdict.Bad;
                }

                return;
            }
        }
    }

    private static List<int> Good(CounterVerdict[] verdicts)
    {
        var good = new List<int>();
        for (int i = 0; i < verdicts.Length; i++)
        {
            if (verdicts[i] == CounterVerdict.Good)
            {
                good.Add(i);
            }
        }

        return good;
    }

    private static bool IsWild(ReadOnlySpan<CounterReading> rows, List<int> good, int at, double mostW, double leastW)
    {
        double rate = RateW(rows, good, at);
        double other = 0;

        // Judged by the rest of the log: a stray end may hold several such rises.
        bool atStart = at < good.Count - at;
        for (int k = atStart ? at + 1 : 1; k < (atStart ? good.Count : at); k++)
        {
            other = Math.Max(other, RateW(rows, good, k));
        }

        // A coarse counter steps by more than flows in a row, so power says something only where other rises are seen as well.
        return other > 0 && rate > (rate > mostW ? Irregular : Wild) * other && rate > leastW;
    }

    // A first reading of nothing, that of a display which had not woken up.
    private static bool IsWildFromNothing(ReadOnlySpan<CounterReading> rows, List<int> good, int at)
    {
        double rate = RateW(rows, good, at), other = 0, step = double.PositiveInfinity;
        for (int k = at + 1; k < good.Count; k++)
        {
            double rise = rows[good[k]].ReadingJ - rows[good[k - 1]].ReadingJ;
            step = rise > 0 ? Math.Min(step, rise) : step;
            other = Math.Max(other, RateW(rows, good, k));
            if (k <= at + Waiting && RateW(rows, good, k) > HardlyRises * rate)
            {
                return false;
            }
        }

        return good.Count > at + Waiting && rows[good[at - 1]].ReadingJ == 0 && other > 0 && rate > WildFromNothing * other
            && rows[good[at]].ReadingJ > LeastSteps * step;
    }

    private static double RateW(ReadOnlySpan<CounterReading> rows, List<int> good, int k)
    {
        double length = rows[good[k]].TimeS - rows[good[k - 1]].TimeS;
        double rise = rows[good[k]].ReadingJ - rows[good[k - 1]].ReadingJ;
        return length > 0 ? rise / length : rise > 0 ? double.PositiveInfinity : 0;
    }

    private static void NameFalls(ReadOnlySpan<CounterReading> rows, CounterVerdict[] verdicts, double regular)
    {
        int before = -1;
        for (int i = 0; i < rows.Length; i++)
        {
            if (verdicts[i] != CounterVerdict.Good)
            {
                continue;
            }

            if (before >= 0 && rows[i].ReadingJ < rows[before].ReadingJ)
            {
                bool reset = rows[i].ReadingJ <= Math.Max(NearZeroShare * rows[before].ReadingJ, Math.Max(Irregular * regular, 0));
                verdicts[i] = reset ? CounterVerdict.Reset : CounterVerdict.Fell;
            }

            before = i;
        }
    }
}
