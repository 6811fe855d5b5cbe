using ChargeAudit.LogMaker.Chargers;
using ChargeAudit.LogMaker.Meters;

namespace ChargeAudit.LogMaker.Studies;

/// <summary>
/// What somebody would know who evaluates one method at one place with full knowledge: the meter's limits (not its errors), the scatter
/// between charges, the noise of a reading, the true borders between modes and the pattern of the load. What is left to such a person is
/// chance, and <see cref="Drawn"/> draws it.
/// </summary>
/// <param name="Charger">The method.</param>
/// <param name="Place">Where.</param>
/// <param name="Meter">The meter.</param>
/// <param name="Runs">Number of runs.</param>
/// <param name="Lengths">Of the parts of each log. [s]</param>
/// <param name="StandbyS">Length of a log of its own for waiting; 0: none. [s]</param>
public sealed record Known(Charger Charger, Place Place, MeterSheet Meter, int Runs, Plan Lengths, double StandbyS)
{
    private readonly Levels _full = Charger.At(Charger.Maintenance, Place);
    private readonly Levels _waiting = Charger.At(Charger.Waiting, Place);

    /// <summary>Mean energy per charge. [Wh]</summary>
    public double EnergyWh { get; } = Charger.EnergyWh(Place);

    /// <summary>[W]</summary>
    public double MaintenanceW => _full.MeanW;

    /// <summary>[W]</summary>
    public double NoLoadW => _waiting.MeanW;

    /// <summary>Length of a charge. [s]</summary>
    public double ChargeS { get; } = Charger.ChargeS;

    /// <summary>One evaluation's energy, charge length, power when full and power when waiting, the meter's errors given. [Wh], [s], [W],
    /// [W]</summary>
    /// <param name="gain">Of the meter, drawn within its limits. [1]</param>
    /// <param name="offsets">Of power, or of voltage and current, drawn within the limits.</param>
    /// <param name="dice">The dice.</param>
    public (double EnergyWh, double ChargeS, double MaintenanceW, double NoLoadW) Drawn(double gain,
        (double Power, double Voltage, double Current) offsets, Dice dice)
    {
        double runs = Math.Sqrt(Runs);
        bool one = Runs == 1;
        double lengthPart = one ? 0 : Charger.LengthScatter * dice.Normal() / runs;
        double powerPart = one ? 0 : Charger.PowerScatter * dice.Normal() / runs;
        double fullPart = one ? 0 : Charger.MaintenanceScatter * dice.Normal() / runs;
        double waitingS = StandbyS > 0 ? StandbyS : Math.Max(Meter.IntervalS, (Lengths.WaitingS + Lengths.TailS) * Runs);
        double e = (EnergyWh * (1 + lengthPart + powerPart) * (1 + gain)) + ErrorWh(offsets, dice);
        double m = (_full.MeanW * (1 + fullPart) * (1 + gain)) + ErrorW(_full, Lengths.MaintenanceS * Runs, offsets, dice);
        double n = (_waiting.MeanW * (1 + gain)) + ErrorW(_waiting, waitingS, offsets, dice);
        return (e, ChargeS * (1 + lengthPart), m, n);
    }

    private bool Instants => Meter.Kind is RowKind.Instantaneous or RowKind.OnChange;

    private bool ByCounter => Meter.Kind == RowKind.CounterOnly;

    private double ErrorWh((double Power, double Voltage, double Current) offsets, Dice dice)
    {
        double stepWh = Meter.CounterStepWh;
        double triangle = (dice.Unit() - dice.Unit()) * stepWh / Math.Sqrt(Runs);
        if (ByCounter)
        {
            return triangle;
        }

        double hours = ChargeS / 3600;
        double plateauW = EnergyWh / hours;
        double voltage = Charger.ChargingV;
        double byOffset = Offset(plateauW, voltage, offsets) * hours;
        double border = Instants
            ? (dice.Between(-0.5, 0.5) * (plateauW - NoLoadW) + dice.Between(-0.5, 0.5) * Math.Abs((0.08 * plateauW) - MaintenanceW))
                * Meter.IntervalS / 3600 / Math.Sqrt(Runs)
            : 0;
        double burst = Instants && Charger.BurstCount > 0
            ? Charger.BurstW
                * Math.Sqrt(Charger.BurstCount
                * (Meter.IntervalS < Charger.BurstS ? Meter.IntervalS * Meter.IntervalS / 6 : Charger.BurstS * Meter.IntervalS)) / 3600
                / Math.Sqrt(Runs) * dice.Normal()
            : 0;
        double held = Meter.ReportsW / 4 * hours * dice.Between(-1, 1);
        double noise = NoiseW(plateauW, voltage) * Math.Sqrt(Meter.IntervalS / ChargeS / Runs) * hours * dice.Normal();

        // With a counter beside the power the better of the two is taken.
        double byReadings = byOffset + border + burst + held + noise;
        return stepWh > 0 && stepWh < LimitW(plateauW, voltage) * hours ? triangle : byReadings;
    }

    private double ErrorW(Levels load, double lengthS, (double Power, double Voltage, double Current) offsets, Dice dice)
    {
        double stepW = Meter.CounterStepWh * 3600 / lengthS;
        double triangle = (dice.Unit() - dice.Unit()) * stepW;
        if (ByCounter)
        {
            return triangle;
        }

        double noiseW = NoiseW(load.MeanW, Charger.IdleV);
        double rounding = !load.HasPulses && noiseW < 0.3 * StepW(load.MeanW) ? StepW(load.MeanW) * dice.Between(-0.5, 0.5) : 0;
        double pulses = !load.HasPulses ? 0
            : Meter.ReportsW > load.HighW - load.LowW ? (load.HighW - load.LowW) * dice.Between(-0.5, 0.5)
            : Instants ? load.ScatterW * Math.Sqrt(Meter.IntervalS / lengthS) * dice.Normal()
            : (load.HighW - load.LowW) * load.PulseS / lengthS * dice.Between(-0.5, 0.5);
        double byReadings = Offset(load.MeanW, Charger.IdleV, offsets) + rounding + pulses
            + (noiseW * Math.Sqrt(Meter.IntervalS / lengthS) * dice.Normal());
        return stepW > 0 && stepW < LimitW(load.MeanW, Charger.IdleV) ? triangle : byReadings;
    }

    private double Offset(double powerW, double voltage, (double Power, double Voltage, double Current) offsets) =>
        Meter.OnDirectCurrent ? (offsets.Voltage * powerW / voltage) + (offsets.Current * voltage) : offsets.Power;

    private double LimitW(double powerW, double voltage) =>
        Meter.OnDirectCurrent ? (Meter.VoltageLimit.Offset * powerW / voltage)
            + (Meter.CurrentLimit.Offset * voltage) : Meter.PowerLimit.Offset;

    private double NoiseW(double powerW, double voltage) => Meter.OnDirectCurrent
        ? Math.Sqrt(Math.Pow(Meter.VoltageNoise * powerW / voltage, 2) + Math.Pow(Meter.CurrentNoise * voltage, 2))
        : Meter.PowerNoise;

    private double StepW(double powerW) => Meter.OnDirectCurrent ? Meter.CurrentStep * Charger.IdleV : Meter.PowerStep;
}
