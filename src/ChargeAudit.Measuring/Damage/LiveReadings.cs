using ChargeAudit.Logs;
using ChargeAudit.Logs.Layout;
using ChargeAudit.Measuring.Integration;
using ChargeAudit.Metrology;

namespace ChargeAudit.Measuring.Damage;

/// <summary>
/// How often readings of a charge stay the same from one to the next, all over the log, and what that says about a run of equal ones.
/// Live readings stay the same for n rows with a probability of the n-th power of that share. What is held by the charger is entered or
/// left otherwise than by a sensor that stops: with a jump where a level begins, smoothly where it ends.
/// </summary>
internal sealed class LiveReadings
{
    private const double LeastS = 60;
    private const int LeastStay = 3;
    private const double ShareOfCharge = 0.05;
    private const double LowShare = 0.15;
    private const double FineStep = 0.02;
    private const int LeastPairs = 10;

    // A run may begin at any row, so the number of places where it might have begun is allowed for first.
    private const double LeastSurprise = 6;

    // With a surprise as great as this, a jump large beside the changes after it is enough.
    private const double GreatSurprise = 30;

    // A change up to this many times the usual one is smooth; a greater one is a jump. [1]
    private const double Alike = 2.5;
    private const int Before = 12;
    private const int LeastChanges = 3;
    private const int Stays = 6;
    private const int StaysInAFall = 3;

    // What a fall has lost meanwhile, beside its last step. [1]
    private const double LostInAFall = 1.5;
    private const double AsBefore = 1.15;

    // This many other runs, of no more than this many times fewer readings, show that readings stay the same by themselves.
    private const int OtherRuns = 1;
    private const int TimesFewer = 3;
    private const int LongStay = 500;
    private const int TimesAsLong = 3;
    private const int TimesAsLongInAFall = 8;
    private const double AbruptSteps = 4;

    // A change that follows from those before it lies this close. [1]
    private const double Follows = 0.1;

    // With rows this far apart, one row may hold the whole of a soft start. [s]
    private const double SlowS = 30;

    private readonly ReadingCell[] _cells;
    private readonly SummaryRules _rules;
    private readonly double _stepW;
    private readonly double _keptUpW;
    private readonly int _pairs;
    private readonly int _equal;

    /// <summary>Counts how often readings stay the same.</summary>
    /// <param name="cells">The readings.</param>
    /// <param name="rules">How they are read.</param>
    /// <param name="stepW">The step that they are printed in. [W]</param>
    /// <param name="keptUpW">The most that the log keeps up. [W]</param>
    public LiveReadings(ReadingCell[] cells, SummaryRules rules, double stepW, double keptUpW)
    {
        (_cells, _rules, _stepW, _keptUpW) = (cells, rules, stepW, keptUpW);
        for (int i = 1; i < cells.Length; i++)
        {
            if (Math.Min(cells[i].MinW, cells[i - 1].MinW) > LowShare * keptUpW)
            {
                _pairs++;
                _equal += Equal(i) ? 1 : 0;
            }
        }
    }

    /// <summary>Whether live readings stop in a run of equal ones.</summary>
    /// <param name="from">First of the run.</param>
    /// <param name="to">Its last.</param>
    public bool StopIn(int from, int to)
    {
        int rows = to - from + 1;
        double value = _cells[from].MinW;
        if (rows < LeastStay || from < LeastStay || to + 1 >= _cells.Length || _cells[to].ToS - _cells[from].FromS < LeastS
            || value < ShareOfCharge * _keptUpW || _stepW > FineStep * value)
        {
            return false;
        }

        double surprise = Surprise(rows, value > LowShare * _keptUpW) - Math.Log(Math.Max(1, _pairs));
        double entry = value - _cells[from - 1].MiddleW;
        double usual = UsualChangeW(from - 1, -1);
        double jump = Math.Abs(_cells[to + 1].MiddleW - value);
        bool falls = entry < -AbruptSteps * _stepW && _cells[from - 1].MiddleW < _cells[from - 2].MiddleW;
        bool jumps = jump > (falls ? LostInAFall : Alike) * Math.Max(Math.Abs(entry), falls ? 0 : usual)
            || (surprise > GreatSurprise && jump > Alike * UsualChangeW(to + 2, 1));
        if (surprise < LeastSurprise || !jumps || jump < AbruptSteps * _stepW || !IsSmooth(from, Math.Abs(entry), usual)
            || OthersStay(_cells, from, to, Math.Min(LowShare * _keptUpW, 0.9 * value), true))
        {
            return false;
        }

        // A full device's level is entered by a step of any size; where a sensor stops, the fall's last step is like the one before.
        bool isMet = IsLevelMet(_cells, from, _stepW)
            || (_rules.Samples is SampleKind.AverageEnding or SampleKind.AverageStarting && IsLevelMet(_cells, from - 1, _stepW));
        if (isMet
            || (falls && -entry > (AsBefore * (_cells[from - 2].MiddleW - _cells[from - 1].MiddleW)) + (2 * _stepW)))
        {
            return false;
        }

        if (entry > 0)
        {
            return rows >= TimesAsLong * LongestStay(from, Stays);
        }

        // A fall that flattens stays longer at each value; at a full device's level it stays for good.
        int longest = LongestStay(from, StaysInAFall);
        bool abrupt = longest == 1 && -entry >= AbruptSteps * _stepW;
        return abrupt || (value > LowShare * _keptUpW && rows >= (longest == 1 ? TimesAsLong : TimesAsLongInAFall * longest));
    }

    /// <summary>Whether a steady fall meets a level in mid-step, or drops to it: its changes follow from one another, and the last is less
    /// or much more than what follows from those before it. Where a sensor stops, the last change is one of the fall.</summary>
    /// <param name="cells">The readings.</param>
    /// <param name="from">The first reading at the level; of means, it or the one before, which then holds part of the drop.</param>
    /// <param name="stepW">The step that readings are printed in. [W]</param>
    public static bool IsLevelMet(ReadingCell[] cells, int from, double stepW)
    {
        if (from < 4)
        {
            return false;
        }

        double Fall(int i) => cells[i - 1].MiddleW - cells[i].MiddleW;
        double Next(double before, double last) => last * Math.Min(1, last / before);
        double third = Fall(from - 3), second = Fall(from - 2), last = Fall(from - 1);
        double next = Next(second, last);
        return third > 0 && second > 0 && last > 0 && Math.Abs(last - Next(third, second)) < (Follows * last) + stepW
            && (Fall(from) < ((1 - Follows) * next) - stepW || Fall(from) > ((1 + (3 * Follows)) * next) + stepW);
    }

    /// <summary>The step that readings are printed in; where it is not known, the least that neighbouring ones differ by. [W]</summary>
    public static double StepW(ReadingCell[] cells, SummaryRules rules, LogLayout layout)
    {
        if (rules.Source == PowerSource.PowerColumn && layout.Resolution.TryGetValue(LogQuantity.Power, out double powerW) && powerW > 0)
        {
            return powerW;
        }

        if (rules.Source == PowerSource.DirectCurrentProduct && layout.Resolution.TryGetValue(LogQuantity.Current, out double currentA)
            && currentA > 0)
        {
            int count = 0;
            double sumV = 0;
            foreach (ref readonly var cell in cells.AsSpan())
            {
                count += cell.MeanV > 0 ? 1 : 0;
                sumV += cell.MeanV > 0 ? cell.MeanV : 0;
            }

            return currentA * (count > 0 ? sumV / count : 1);
        }

        double least = double.PositiveInfinity;
        for (int i = 1; i < cells.Length; i++)
        {
            double step = Math.Abs(cells[i].MiddleW - cells[i - 1].MiddleW);
            least = step > 1e-9 ? Math.Min(least, step) : least;
        }

        return least;
    }

    private bool Equal(int i) => _cells[i].IsFlat && _cells[i - 1].IsFlat && _cells[i].MinW == _cells[i - 1].MinW;

    private double Surprise(int rows, bool counted)
    {
        int own = counted ? rows - 1 : 0, pairs = _pairs - own, equal = _equal - own;
        return pairs < LeastPairs ? 0 : (rows - 1) * Math.Log((pairs + 2.0) / (equal + 1.0));
    }

    // The middle one of the changes from a place on, or up to it. [W]
    private double UsualChangeW(int at, int direction)
    {
        var changes = new List<double>(Before);
        for (int i = at; i > 0 && i < _cells.Length && Math.Abs(i - at) < Before; i += direction)
        {
            double change = Math.Abs(_cells[i].MiddleW - _cells[i - 1].MiddleW);
            if (change > 0)
            {
                changes.Add(change);
            }
        }

        changes.Sort();
        // One change among equal readings is a step of the load.
        return changes.Count < LeastChanges ? 0 : changes[changes.Count / 2];
    }

    // As the changes before it, or as the last two of a move that had begun; one may be a row that holds part of a jump.
    private bool IsSmooth(int from, double entry, double usual)
    {
        double Change(int i) => Math.Abs(_cells[i].MiddleW - _cells[i - 1].MiddleW);
        bool oneIsEnough = _rules.Samples == SampleKind.Instantaneous && _rules.MedianIntervalS >= SlowS;
        return entry <= (Alike * usual) + (2 * _stepW)
            || (entry <= Alike * Change(from - 1) && (oneIsEnough || entry <= Alike * Change(from - 2)));
    }

    /// <summary>Whether readings stay the same for long elsewhere as well.</summary>
    /// <param name="cells">The readings.</param>
    /// <param name="from">First of a run of equal ones.</param>
    /// <param name="to">Its last.</param>
    /// <param name="leastW">Readings below this say nothing. [W]</param>
    /// <param name="orTheSame">Whether runs at the same value count.</param>
    public static bool OthersStay(ReadingCell[] cells, int from, int to, double leastW, bool orTheSame)
    {
        int least = Math.Max(LeastStay, Math.Min(LongStay, (to - from + 1) / TimesFewer)), found = 0;
        for (int i = 0; i < cells.Length && found < OtherRuns;)
        {
            int end = i + 1;
            while (end < cells.Length && cells[i].IsFlat && cells[end].IsFlat && cells[end].MinW == cells[i].MinW)
            {
                end++;
            }

            found += end - i >= least && i != from && cells[i].MinW > leastW && (orTheSame || cells[i].MinW != cells[from].MinW) ? 1 : 0;
            i = end;
        }

        return found >= OtherRuns;
    }

    // Cells of the longest of the last values before a place.
    private int LongestStay(int end, int most)
    {
        int longest = 1, stay = 1, values = 0;
        for (int i = end - 1; i > 0 && values < most; i--)
        {
            stay = Equal(i) ? stay + 1 : 1;
            values += stay == 1 ? 1 : 0;
            longest = Math.Max(longest, stay);
        }

        return longest;
    }
}
