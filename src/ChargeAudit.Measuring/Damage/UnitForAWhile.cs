namespace ChargeAudit.Measuring.Damage;

/// <summary>
/// A unit that changes and changes back: from one row to the next a value is within 2 % of a power of ten of what it was, and five rows or
/// more later it falls or rises back by the same. A load that is switched on and off may do as much; what bears the unit out is the counter
/// beside, the digits (the readings between have as many fewer than those before and after, or as many more), or, where readings hardly
/// differ, a number of three digits that is the same to the last of them at both ends. Where most readings between lie above 100 W, one of
/// the two steps may be off by a factor of 2.5, as the load may step as well; then the digits have to tell.
/// </summary>
internal sealed class UnitForAWhile
{
    private const int LeastRows = 5;

    // What steps more often than this is a load that is switched.
    private const int MostSteps = 64;
    private const double Closeness = 1.02;

    // Where no charger gives so much, one of the two steps may hold a step of the load as well.
    private const double Looseness = 2.5;
    private const double LooseOfDigits = 1.15;

    // A hundred times and a hundredth, at their loosest.
    private const double MostFar = 100 / Looseness;
    private const double LeastFar = 0.01 * Looseness;
    private const double NoChargerW = 100;
    private const double LeastW = 1;
    private const int LeastLoose = 6;
    private const int MostPulses = 5;
    private const double LeastOfPulse = 0.3;
    private const double Exactness = 1e-9;
    private const double LeastShownW = 0.05;
    private const double LeastFarW = 1e-4;

    private readonly ReadingCell[] _cells;
    private readonly Digits _digits;
    private readonly CounterAndReadings? _counter;

    private UnitForAWhile(ReadingCell[] cells, Digits digits, CounterAndReadings? counter) =>
        (_cells, _digits, _counter) = (cells, digits, counter);

    /// <summary>Time at which the unit changes, and the power of ten; null where none does.</summary>
    public static (double TimeS, int Power)? Find(ReadingCell[] cells, Lazy<Digits> digits, CounterAndReadings? counter)
    {
        var steps = Steps(cells).Take(MostSteps + 1).ToList();
        if (steps.Count is < 2 or > MostSteps || IsSwitched(cells))
        {
            return null;
        }

        var search = new UnitForAWhile(cells, digits.Value, counter);
        for (int i = 0; i < steps.Count; i++)
        {
            for (int j = i + 1; j < steps.Count; j++)
            {
                if (steps[j].Power == -steps[i].Power && search.IsSure(steps[i], steps[j]))
                {
                    return (cells[steps[i].First].FromS, steps[i].Power);
                }
            }
        }

        return null;
    }

    // A pad that waits may take ten times as much in its pulses as between them, again and again.
    private static bool IsSwitched(ReadingCell[] cells)
    {
        int pulses = 0;
        for (int i = 1; i < cells.Length && pulses <= MostPulses; i++)
        {
            double ratio = cells[i].MiddleW / cells[i - 1].MiddleW;
            pulses += cells[i].MiddleW > LeastOfPulse && PowerOfTen.Near(ratio, LooseOfDigits) > 0 ? 1 : 0;
        }

        return pulses > MostPulses;
    }

    // In a long log the cell between may hold rows of both units.
    private static IEnumerable<Step> Steps(ReadingCell[] cells)
    {
        for (int i = 1; i < cells.Length; i++)
        {
            for (int first = i; first <= Math.Min(i + 1, cells.Length - 1); first++)
            {
                double ratio = cells[first].MiddleW / cells[i - 1].MiddleW;
                if (ratio is > 9 or < 0.15 and > 0 && PowerOfTen.Near(ratio, Closeness) is not 0 and var power)
                {
                    yield return new Step(i, first, power, IsClose: true);
                    break;
                }

                if (ratio is > LeastFar and < MostFar)
                {
                    continue;
                }

                bool isNoCharger = Math.Max(cells[first].MiddleW, cells[i - 1].MiddleW) > NoChargerW;
                if (first == i && PowerOfTen.Near(ratio, isNoCharger ? Looseness : LooseOfDigits) is var far && Math.Abs(far) > 1)
                {
                    yield return new Step(i, first, far, IsClose: false);
                }
            }
        }
    }

    private bool IsSure(Step there, Step back)
    {
        double leastW = Math.Abs(there.Power) > 1 ? LeastFarW : LeastShownW;
        if (back.End - there.First < LeastRows || Math.Max(_cells[there.First].MiddleW, _cells[there.End - 1].MiddleW) < leastW)
        {
            return false;
        }

        if (!there.IsClose || !back.IsClose)
        {
            return there.Power > 1 && _digits.DifferBetween(there.End, there.First, back.End, back.First, there.Power, LeastLoose)
                && (((there.IsClose || back.IsClose) && IsNoCharger(there, back)) || DigitsFollowNoSize(there, back));
        }

        return CounterSays(there, back) is { } says && (Math.Abs(says - there.Power) < 0.25 || Math.Abs(says) < 0.3)
            ? Math.Abs(says) >= 0.3
            : _digits.DifferBetween(there.End, there.First, back.End, back.First, there.Power)
                || (IsSame(there) && IsSame(back) && AreThreeDigits(there) && AreThreeDigits(back));
    }

    private bool DigitsFollowNoSize(Step there, Step back) =>
        Math.Max(Off(there), Off(back)) < LooseOfDigits
            && _digits.FollowNoSizeBetween(there.End, there.First, back.End, back.First, there.Power);

    // By what factor a step is off its power of ten.
    private double Off(Step step)
    {
        double off = _cells[step.First].MiddleW / _cells[step.End - 1].MiddleW / Math.Pow(10, step.Power);
        return Math.Max(off, 1 / off);
    }

    // Whether most readings between are no charger's, beside some that are.
    private bool IsNoCharger(Step there, Step back)
    {
        int above = 0;
        for (int i = there.First; i < back.End; i++)
        {
            above += _cells[i].MiddleW > NoChargerW ? 1 : 0;
        }

        return above > (back.End - there.First) / 2 && Math.Min(_cells[there.End - 1].MiddleW, _cells[back.First].MiddleW) > LeastW;
    }

    private bool IsSame(Step step) => _cells[step.End - 1].IsFlat && _cells[step.First].IsFlat
        && Math.Abs((_cells[step.First].MaxW / _cells[step.End - 1].MaxW / Math.Pow(10, step.Power)) - 1) < Exactness;

    private bool AreThreeDigits(Step step)
    {
        double value = Math.Abs(_cells[step.First].MaxW);
        double twoDigits = value / Math.Pow(10, Math.Floor(Math.Log10(value)) - 1);
        return Math.Abs(twoDigits - Math.Round(twoDigits)) > 1e-6;
    }

    // By how many powers of ten the readings' energy for the counter's advance differs between from what it is before and after.
    private double? CounterSays(Step there, Step back)
    {
        if (_counter is null)
        {
            return null;
        }

        double startS = _cells[0].FromS, fromS = _cells[there.First].FromS, toS = _cells[back.End - 1].ToS, endS = _cells[^1].ToS;
        double between = _counter.AdvanceJ(fromS, toS);
        double beside = _counter.AdvanceJ(startS, fromS) + _counter.AdvanceJ(toS, endS);
        return Math.Min(between, beside) < ChangedUnit.LeastSteps * _counter.StepJ
            ? null
            : Math.Log10(_counter.ReadJ(fromS, toS) / between / ((_counter.ReadJ(startS, fromS) + _counter.ReadJ(toS, endS)) / beside));
    }

    // Just past the last row before, and the first after; and whether they differ by little else than the power of ten.
    private readonly record struct Step(int End, int First, int Power, bool IsClose);
}
