using ChargeAudit.Logs;
using ChargeAudit.Logs.Layout;
using ChargeAudit.Measuring.Integration;
using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Diagnostics;
using MathNet.Numerics.Statistics;

namespace ChargeAudit.Measuring.Damage;

/// <summary>
/// Rows of exactly zero in a charge or at one of its ends that are not a pause: either the voltage is zero as well, without which there is
/// nothing to charge from, or this meter never reads exactly zero elsewhere, though the charger is idle there. A pause keeps the voltage
/// and reads as the idle charger does. At an end of the charge the charger may have been cut off instead; the interval holds both.
/// </summary>
internal sealed class ZeroReadings
{
    private const int LeastRows = 3;

    // Readings beside a run whose middle one is the level there, and the very next ones.
    private const int Beside = 5;
    private const int Next = 2;

    // Readings of an idle charger beside a run, and how many others may stand between.
    private const int Clear = 4;
    private const int MostBetween = 2;

    // Zeros among as many readings on one side that may be lost, each by itself.
    private const int MostLost = 2;

    // Of many such rows, some stand where the load steps.
    private const double MostOthers = 0.05;

    // More of a log's readings are no lost rows.
    private const double MostLostShare = 0.1;
    private const double LeastDeadS = 60;
    private const double DeadShare = 0.75;
    private const double LongestS = 1800;
    private const double AlikeLevels = 3;
    private const double LeastChargeW = 1;
    private const double ShareOfCharge = 0.25;
    private const double IdleShare = 0.3;
    private const int LeastIdle = 5;
    private const int MostAtEnds = 2;
    private const double ClearSteps = 2.001;
    private const double ClearSpreads = 2;

    // The interval of a bridge ends a twentieth short of no energy at all; at an end of the charge that may be the truth.
    private const double ShareAtEnds = 0.35;
    private const double SameShare = 1e-9;

    private readonly ReadingCell[] _cells;
    private readonly SummaryRules _rules;
    private readonly LogLayout _layout;
    private readonly PowerEnvelope _envelope;
    private readonly LoadedVoltage? _voltage;
    private readonly Lazy<double> _stepW;

    private ZeroReadings(ReadingCell[] cells, LogSummary summary, LogLayout layout)
    {
        (_cells, _rules, _layout, _envelope) = (cells, summary.Rules, layout, summary.Envelope);
        _voltage = layout.Has(LogQuantity.Voltage) && layout.Has(LogQuantity.Current) && summary.IsDirect
            ? new LoadedVoltage(cells, layout.Resolution.GetValueOrDefault(LogQuantity.Voltage, 0))
            : null;
        _stepW = new Lazy<double>(() => StepW(cells));
    }

    private bool Holds => _rules.Samples == SampleKind.OnChange;

    /// <summary>The stretches of such rows.</summary>
    public static IEnumerable<MarkedStretch> Find(ReadingCell[] cells, LogSummary summary, LogLayout layout) =>
        new ZeroReadings(cells, summary, layout).Find();

    private IEnumerable<MarkedStretch> Find()
    {
        var all = Runs().ToList();
        if (all.Count == 0)
        {
            yield break;
        }

        double chargesW = Math.Max(LeastChargeW, ShareOfCharge * AbsurdReadings.KeptUpW(_cells));
        double longestS = Math.Max(LongestS, 3.5 * _rules.MedianIntervalS);
        bool IsWithin((double Before, double After) levels) => Math.Min(levels.Before, levels.After) > chargesW
            && Math.Max(levels.Before, levels.After) < AlikeLevels * Math.Min(levels.Before, levels.After);
        (double Before, double After) LevelsOf((int From, int To) run)
        {
            // A pause or an end of the charge may follow soon.
            var (usual, next) = (Levels(run, Beside), Levels(run, Next));
            return !IsWithin(usual) && IsWithin(next) ? next : usual;
        }

        // Whether the voltage did not rise as it does in a pause tells that only the current was lost.
        var runs = all.Where(r => LengthS(r) <= longestS)
            .Select(r => (Run: r, Levels: LevelsOf(r), IsLoaded: _voltage?.IsIn(r.From, r.To) == true))
            .Where(r => Math.Max(r.Levels.Before, r.Levels.After) > (r.IsLoaded ? LeastChargeW : chargesW))
            .Select(r => (r.Run, r.Levels, r.IsLoaded, IsWithin: IsWithin(r.Levels), IsDead: IsDead(r.Run)))
            .Where(r => r.IsWithin || r.IsDead || r.IsLoaded || IsClear(r.Run, CurrentStepW(r.Run))).ToList();

        // A load that reads zero whenever its charge pauses is no damage.
        if (runs.Count(r => !r.IsWithin) > MostAtEnds)
        {
            runs.RemoveAll(r => !r.IsWithin && !r.IsLoaded);
        }

        var spans = runs.ConvertAll(r => r.Run);
        foreach (var (run, levels, loaded, within, dead) in runs)
        {
            double levelW = within ? Math.Min(levels.Before, levels.After) : Math.Max(levels.Before, levels.After);
            if (dead || loaded || IdleIsNeverZero(spans, IdleShare * levelW, within ? _stepW.Value : CurrentStepW(run)))
            {
                yield return Marked(run, within, levels, dead ? "and the voltage as well"
                    : loaded ? "though the voltage stays as it is under load" : "where this meter never reads an idle charger as 0");
            }
        }
    }

    private MarkedStretch Marked((int From, int To) run, bool within, (double Before, double After) levels, string because)
    {
        var (from, to) = run;
        double levelW = within ? Math.Min(levels.Before, levels.After) : Math.Max(levels.Before, levels.After);
        double lengthS = LengthS(run);
        double shiftS = StampShift.Of(_rules);

        // A row of zero may share a cell with the last or the next good one.
        double firstS = _cells[_cells[from - 1].MinW == 0 ? from - 1 : from].FromS,
            lastS = _cells[_cells[to + 1].MinW == 0 ? to + 1 : to].ToS;
        string means = within ? "no pause" : "the charge may have gone on";

        // Too short for a gap: then the bridge between its ends is all that there is. And too short for a border to be looked for in it.
        bool alone = Holds || lengthS + _rules.MedianIntervalS <= _rules.GapThresholdS
            || (!within && lastS - firstS <= HiddenEnergy.NearS(_rules, _envelope));
        return new MarkedStretch(firstS + shiftS, lastS + shiftS, FaultKind.ZeroReadings,
            Prose.Of(
                $"power reads exactly 0 for {lengthS:F0} s between readings of {levels.Before:G4} W and {levels.After:G4} W, {because}: "
                    + $"{means}; the rows were left out, as in a gap"))
        {
            AtMostW = 0,
            HiddenJ = levelW * (lengthS + _rules.MedianIntervalS) * (alone ? 1 : within ? 0 : ShareAtEnds),
        };
    }

    private double LengthS((int From, int To) run) =>
        (Holds ? _cells[run.To + 1].FromS : _cells[run.To].ToS) - _cells[run.From].FromS;

    private (double Before, double After) Levels((int From, int To) run, int readings) =>
        (Level(run.From - 1, -1, readings), Level(run.To + 1, 1, readings));

    // Whether the voltage was gone for the time of the rows: between the good rows beside them their share of its integral is missing.
    private bool IsDead((int From, int To) run)
    {
        double rowsS = _cells[run.To].FromS - _cells[run.From].FromS + _rules.MedianIntervalS;
        if (!_layout.Has(LogQuantity.Voltage) || (run.To - run.From + 1 < LeastRows && rowsS < LeastDeadS))
        {
            return false;
        }

        double fromS = _cells[run.From - 1].FromS, toS = _cells[run.To + 1].ToS;
        double goneS = _envelope.CoveredBetweenS(fromS, toS) - (_envelope.VoltSecondsBetween(fromS, toS) / _cells[run.From - 2].MeanV);
        return _cells[run.From - 2].MeanV > 0 && goneS > DeadShare * rowsS;
    }

    // At an end of the charge what stands beside the rows on its idle side has to lie clear of zero by its steps and by its scatter.
    private bool IsClear((int From, int To) run, double stepW)
    {
        bool isBefore = Level(run.From - 1, -1) < Level(run.To + 1, 1);
        for (int apart = 0; apart <= MostBetween; apart++)
        {
            int from = isBefore ? run.From - Clear - apart : run.To + 1 + apart;
            if (from >= 0 && from + Clear <= _cells.Length && IsClear(_cells.AsSpan(from, Clear), stepW))
            {
                return true;
            }
        }

        return false;
    }

    private static bool IsClear(ReadOnlySpan<ReadingCell> beside, double stepW)
    {
        double least = double.PositiveInfinity, most = double.NegativeInfinity;
        foreach (ref readonly var cell in beside)
        {
            least = Math.Min(least, cell.MinW);
            most = Math.Max(most, cell.MaxW);
        }

        return LieClear(least, most, stepW);
    }

    // Whether readings between two of one sign lie clear of zero by their steps and by what they scatter.
    private static bool LieClear(double least, double most, double stepW)
    {
        double nearest = Math.Min(Math.Abs(least), Math.Abs(most));
        return least * most > 0 && nearest > ClearSteps * stepW && nearest > ClearSpreads * (most - least);
    }

    // What a step of the current is as power, where power is its product with the voltage: the products have finer steps.
    private double CurrentStepW((int From, int To) run) => _rules.Source == PowerSource.DirectCurrentProduct
        ? Math.Max(_stepW.Value, _layout.Resolution.GetValueOrDefault(LogQuantity.Current, 0) * _cells[run.From - 2].MeanV)
        : _stepW.Value;

    private IEnumerable<(int From, int To)> Runs()
    {
        for (int from = 0; from < _cells.Length;)
        {
            int to = from;
            while (to < _cells.Length && IsZero(to))
            {
                to++;
            }

            // Where an idle charger reads 0 as well, the voltage tells where the charge is.
            (int From, int To) run = (to > from ? _voltage?.LoadedPart(from, to - 1) : null) ?? (from, to - 1);
            if (to > from && run.From >= Beside && run.To + 1 + Beside <= _cells.Length)
            {
                yield return run;
            }

            from = Math.Max(to, from + 1);
        }
    }

    // The middle one of some readings beside the run; of two the less.
    private double Level(int from, int direction, int readings = Beside) =>
        Enumerable.Range(0, readings).Select(i => _cells[from + (i * direction)].MiddleW).Order().ElementAt((readings - 1) / 2);

    // What lies within a few steps of zero may be rounded to zero in a pause that takes a little less. The first reading of a log does not
    // count: some meters begin with a zero before they have measured.
    private bool IdleIsNeverZero(List<(int From, int To)> runs, double idleBelowW, double stepW)
    {
        var idleW = new List<double>();
        int next = 0, others = 0, lost = 0;
        for (int i = 1; i < _cells.Length; i++)
        {
            if (next < runs.Count && i >= runs[next].From)
            {
                i = runs[next++].To;
                continue;
            }

            // Beside a run a cell may hold a row of it.
            bool beside = (next < runs.Count && i + 1 == runs[next].From) || (next > 0 && i == runs[next - 1].To + 1);
            if (!beside && (_cells[i].MinW == 0 || _cells[i].MaxW == 0))
            {
                bool isLost = IsLost(i, idleBelowW, stepW);
                lost += isLost ? 1 : 0;
                others += isLost ? 0 : 1;
                if (others > MostOthers * runs.Count || lost > MostLostShare * _cells.Length)
                {
                    return false;
                }

                continue;
            }

            if (Math.Abs(_cells[i].MaxW) < idleBelowW)
            {
                idleW.Add(Math.Abs(_cells[i].MaxW));
            }
        }

        return idleW.Count >= LeastIdle && idleW.LowerQuartile() > ClearSteps * stepW;
    }

    // Whether a zero was lost as well, and is no idle charger's: one of few, next to a charge's reading, or among readings that lie clear
    // of it.
    private bool IsLost(int at, double idleBelowW, double stepW)
    {
        if (!_cells[at].IsFlat)
        {
            return false;
        }

        int from = at, to = at;
        while (from > 0 && IsZero(from) && at - from <= MostLost)
        {
            from--;
        }

        while (to + 1 < _cells.Length && IsZero(to) && to - at <= MostLost)
        {
            to++;
        }

        bool isCharging = to - from - 1 <= MostLost && Math.Max(_cells[from].MinW, _cells[to].MinW) > idleBelowW
            && Math.Min(_cells[from].MinW, _cells[to].MinW) > ClearSteps * stepW;
        return isCharging || (IsLostBeside(at, -1, stepW) && IsLostBeside(at, 1, stepW));
    }

    private bool IsZero(int i) => _cells[i].MinW == 0 && _cells[i].MaxW == 0;

    private bool IsLostBeside(int at, int direction, double stepW)
    {
        double least = double.PositiveInfinity, most = double.NegativeInfinity;
        int zeros = 0, readings = 0;
        for (int i = at + direction; readings < Beside; i += direction)
        {
            if (i < 0 || i >= _cells.Length)
            {
                return false;
            }

            bool isZero = IsZero(i);
            zeros += isZero ? 1 : 0;
            readings += isZero ? 0 : 1;
            if (zeros > MostLost)
            {
                return false;
            }

            least = isZero ? least : Math.Min(least, _cells[i].MinW);
            most = isZero ? most : Math.Max(most, _cells[i].MaxW);
        }

        return least > 0 && LieClear(least, most, stepW);
    }

    // The least that two of the readings differ by.
    private static double StepW(ReadingCell[] cells)
    {
        double[] values = [.. cells.Select(c => c.MaxW).Order()];
        double least = double.PositiveInfinity;
        for (int i = 1; i < values.Length; i++)
        {
            double apart = values[i] - values[i - 1];
            least = apart > SameShare * Math.Abs(values[i]) ? Math.Min(least, apart) : least;
        }

        return double.IsFinite(least) ? least : 0;
    }
}
