using ChargeAudit.Logs;
using ChargeAudit.Measuring.Integration;
using ChargeAudit.Metrology.Diagnostics;

namespace ChargeAudit.Measuring.Damage;

/// <summary>
/// Rows over which the time stands still while readings go on. Where the next stamp makes up for it there is a gap, which is bridged; where
/// it goes on from the old one, as much time is lost as there are rows, or none: the interval reaches from no energy of it to all. Rows
/// with equal readings were written twice and hide nothing. Mutable; one reading.
/// </summary>
internal sealed class StoppedClock(SummaryRules rules)
{
    /// <summary>Rows under one stamp that a logger may well write.</summary>
    public const int LeastRows = 3;

    private const int MostStretches = 64;

    private readonly List<MarkedStretch> _stretches = [];
    private double _timeS = double.NaN;
    private double _powerW;
    private double _lostJ;
    private int _rows;
    private bool _differ;

    /// <summary>Takes the next row.</summary>
    public void Add(in Sample sample)
    {
        double power = PowerRule.PowerW(rules.Source, in sample);
        if (sample.TimeS == _timeS && !sample.AfterClockStep)
        {
            _differ |= power != _powerW;
            _rows++;
            _lostJ += power > 0 ? power * rules.MedianIntervalS : 0;
        }
        else
        {
            End(sample.TimeS - _timeS);
            _timeS = sample.TimeS;
        }

        _powerW = power;
    }

    /// <summary>What was found, as stretches that leave no row out.</summary>
    public IReadOnlyList<MarkedStretch> Stretches()
    {
        End(0);
        return _stretches;
    }

    private void End(double stepS)
    {
        bool madeUp = stepS > 0.5 * (_rows + 1) * rules.MedianIntervalS && stepS > rules.GapThresholdS;
        if (_rows >= LeastRows && _differ && !madeUp && _stretches.Count < MostStretches)
        {
            _stretches.Add(new MarkedStretch(_timeS, _timeS, FaultKind.TimeDuplicate, "the time stood still")
            {
                Kept = true,
                AboveW = double.PositiveInfinity,
                HiddenJ = 1.15 * _lostJ,
            });
        }

        (_rows, _lostJ, _differ) = (0, 0, false);
    }
}
