using ChargeAudit.Measuring.Integration;
using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.Measuring;

/// <summary>
/// Whether the energy of a stretch is that of the readings or the advance of the counter beside them: the one with the smaller standard
/// uncertainty, before the values are looked at. Then both are compared, and where they differ by more than both allow, the interval
/// reaches from one to the other. Safe for several threads.
/// </summary>
internal sealed class CounterChoice
{
    /// <summary>A counter that shows less than this share of the readings' energy did not register the load: below its starting power it
    /// stands still. [1]</summary>
    private const double LeastRegistered = 0.02;

    /// <summary>Figures further apart than this many times their joint standard uncertainty contradict each other. [1]</summary>
    private const double Beyond = 3;

    /// <summary>Share of a rectangular distribution's half-width within which 95 % of it lies, a little less so that both ends lie inside.
    /// [1]</summary>
    private const double Filled = 0.949;

    private const string Contradiction = "counter-contradicts";

    private readonly LogSummary _summary;
    private readonly string _logId;
    private readonly Func<EnergySensitivities, MeterErrors>? _stated;
    private readonly Lazy<bool> _registersLittle;
    private readonly Lazy<(double[] TimesS, double[] EnergiesJ)> _curve;

    /// <summary>Prepares the choice for a log.</summary>
    /// <param name="summary">Its finished summary.</param>
    /// <param name="logId">Its name.</param>
    /// <param name="stated">What the data sheet states of the counter's energy; null where it states nothing: then the counter shares the
    /// errors of the readings.</param>
    public CounterChoice(LogSummary summary, string logId, Func<EnergySensitivities, MeterErrors>? stated)
    {
        _summary = summary;
        _logId = logId;
        _stated = stated;
        _registersLittle = new Lazy<bool>(() => LowCells.AreRegistered(summary));
        _curve = new Lazy<(double[] TimesS, double[] EnergiesJ)>(() =>
        {
            var curve = CounterCurve.Of(summary.Counted, summary.CounterStepJ);
            return ([curve[0].FromS, .. curve.Select(s => s.ToS)], [0, .. AddedUp(curve)]);
        });
    }

    /// <summary>Whether counter and readings of an energy contradict each other.</summary>
    public static bool Contradicts(Measured energy) =>
        energy.Components.Any(c => c.Source is { Owner: SourceOwner.Log, Part: Contradiction });

    /// <summary>Whether the counter can be compared with the readings of the whole log.</summary>
    public bool StandsBeside() => StandsBeside(double.NegativeInfinity, double.PositiveInfinity, _summary.EnergyJ.Value);

    /// <summary>The energy of a stretch with its components, chosen. [J]</summary>
    /// <param name="readingsJ">By the readings. [J]</param>
    /// <param name="ofReadings">Its components.</param>
    /// <param name="fromS">Start. [s]</param>
    /// <param name="toS">End. [s]</param>
    public (double EnergyJ, List<UncertaintyComponent> Components) Of(double readingsJ, List<UncertaintyComponent> ofReadings, double fromS,
        double toS)
    {
        if (!StandsBeside(fromS, toS, readingsJ))
        {
            return (readingsJ, ofReadings);
        }

        double uncountedJ = UncountedJ(fromS, toS);
        double countedJ = At(toS) - At(fromS) + uncountedJ;
        var ofCounter = ComponentsOf(countedJ, ofReadings, fromS, toS);
        AddUncounted(ofCounter, ofReadings, readingsJ > 0 ? uncountedJ / readingsJ : 0);
        double own = U(ofReadings), other = U(ofCounter);
        bool takeCounter = !Fell && _summary.IsCounted(fromS, toS) && other < own;
        var components = takeCounter ? ofCounter : ofReadings;

        // Where it fell the counter shows the least that has flowed.
        double apart = Math.Abs(countedJ - readingsJ);
        double unexplained = countedJ > readingsJ ? apart : Math.Max(0, apart - AtFalls(fromS, toS).Sum(f => f.HiddenJ));
        if (unexplained > Beyond * Math.Sqrt((own * own) + (other * other)) && unexplained > Allowed(readingsJ))
        {
            // To the figure that was not taken, and as far beyond as that may be off itself.
            double reach = apart + (2 * (takeCounter ? own : other));
            components.Add(new(InfluenceSource.OfLog(_logId, SourceKind.CounterReading, Contradiction, ErrorShape.Rectangular), reach
                / (Filled * Math.Sqrt(3))));
        }

        // Where rows may stand twice, the readings may have been counted twice as well.
        double twiceJ = AtFalls(fromS, toS).Where(f => f.MayBeTwice).Sum(f => f.HiddenJ);
        if (twiceJ > 0)
        {
            components.Add(new(InfluenceSource.OfLog(_logId, SourceKind.CounterReading, "counter-fell", ErrorShape.Rectangular), twiceJ
                / Math.Sqrt(3)));
        }

        return (takeCounter ? countedJ : readingsJ, components);
    }

    // The same allowance as that of the fault: two steps, and 2 % where no data sheet says better.
    private double Allowed(double energyJ) => (0.02 * Math.Abs(energyJ)) + (2 * _summary.CounterStepJ);

    private bool Fell => _summary.CounterResets.Count > 0 || _summary.CounterFalls.Count > 0;

    private bool StandsBeside(double fromS, double toS, double readingsJ)
    {
        bool whole = double.IsNegativeInfinity(fromS) && double.IsPositiveInfinity(toS);
        var counted = _summary.Counted;
        return _summary.Rules.Source != PowerSource.EnergyCounter && counted.Count >= 2 && _summary.CounterStepJ > 0
            && (_summary.Rules.Gaps == Logs.GapPolicy.Bridge || _summary.Gaps.Count == 0)
            && counted[^1].EnergyJ > LeastRegistered * _summary.EnergyJ.Value && _registersLittle.Value
            && (whole || (readingsJ > 0 && At(toS) - At(fromS) >= _summary.CounterStepJ));
    }

    // A mean reaches back before the counter's first reading, or on behind its last, and a counter may be there for a part of the log only:
    // in the rest the readings are all that there is.
    private double UncountedJ(double fromS, double toS)
    {
        var counted = _summary.Counted;
        double ReadJ(double from, double to) => to > from ? _summary.Envelope.EnergyBetweenJ(from, to) : 0;
        return ReadJ(fromS, Math.Min(toS, counted[0].TimeS)) + ReadJ(Math.Max(fromS, counted[^1].TimeS), toS);
    }

    private IEnumerable<HiddenAtFall> AtFalls(double fromS, double toS) =>
        _summary.HiddenAtFalls.Where(f => f.ToS > fromS && f.FromS < toS);

    // Their share of what makes the readings uncertain; the meter's part is in already where the counter has it from the readings.
    private void AddUncounted(List<UncertaintyComponent> ofCounter, List<UncertaintyComponent> ofReadings, double share)
    {
        if (share > 0)
        {
            ofCounter.AddRange(ofReadings
                .Where(c => c.Source.Owner != SourceOwner.Meter || (_stated is not null && c.Source.Kind != SourceKind.MeterOffset))
                .Select(c => c with { SignedStandardUncertainty = share * c.SignedStandardUncertainty }));
        }
    }

    private List<UncertaintyComponent> ComponentsOf(double countedJ, List<UncertaintyComponent> ofReadings, double fromS, double toS)
    {
        // The counter adds up what the same meter measures, so it is off by as much where little flows.
        var meter = ofReadings.Where(c => c.Source.Owner == SourceOwner.Meter);
        var components = new List<UncertaintyComponent>();
        if (_stated is { } stated)
        {
            components.AddRange(stated(new EnergySensitivities { EnergyJ = countedJ, LogId = _logId }).Components);
            meter = meter.Where(c => c.Source.Kind == SourceKind.MeterOffset);
        }

        components.AddRange(meter);
        components.AddRange(CounterErrors.AtEnds(_summary, _logId, fromS, toS));
        return components;
    }

    private double At(double timeS)
    {
        var (times, energies) = _curve.Value;
        int i = Array.BinarySearch(times, timeS);
        if (i >= 0)
        {
            return energies[i];
        }

        int next = ~i;
        return next == 0 ? energies[0]
            : next == times.Length ? energies[^1]
            : energies[next - 1] + ((energies[next] - energies[next - 1]) * (timeS - times[next - 1]) / (times[next] - times[next - 1]));
    }

    private static IEnumerable<double> AddedUp(IEnumerable<CounterStretch> stretches)
    {
        double sum = 0;
        foreach (var stretch in stretches)
        {
            sum += stretch.EnergyJ;
            yield return sum;
        }
    }

    private static double U(IEnumerable<UncertaintyComponent> components) =>
        Math.Sqrt(components.Sum(c => c.Variance));
}
