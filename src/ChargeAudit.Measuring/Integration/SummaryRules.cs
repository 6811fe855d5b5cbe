using System.Text.Json.Serialization;
using ChargeAudit.Logs;
using ChargeAudit.Logs.Layout;
using ChargeAudit.Metrology;

namespace ChargeAudit.Measuring.Integration;

/// <summary>What must be known about a log before its samples can be summed. The same rules go for every piece of one log.</summary>
public sealed record SummaryRules
{
    /// <summary>Which columns give real power.</summary>
    public required PowerSource Source { get; init; }

    /// <summary>What a reading stands for.</summary>
    public required SampleKind Samples { get; init; }

    /// <summary>The change that a log written on change leaves unwritten; null where it is not known, or the log is not written on
    /// change.</summary>
    public ChangeThreshold? ChangeThreshold { get; init; }

    /// <summary>Usual interval between rows. [s]</summary>
    public required double MedianIntervalS { get; init; }

    /// <summary>About how many rows the log holds, rather too few than too many; null where that is not known.</summary>
    public long? RowsAbout { get; init; }

    /// <summary>An interval above this is a gap. [s]</summary>
    public required double GapThresholdS { get; init; }

    /// <summary>Length of the interval that each row's energy belongs to; zero where rows hold no such energies. [s]</summary>
    [JsonInclude]
    internal double IntervalS { get; init; }

    /// <summary>What is done with a gap.</summary>
    public GapPolicy Gaps { get; init; } = GapPolicy.Bridge;

    /// <summary>Power below this flows the wrong way; such readings are left out and counted as <c>reversed</c>. Above it, a negative
    /// reading is noise about zero. [W]</summary>
    public double ReversedBelowW { get; init; } = -0.05;

    /// <summary>
    /// The same limit as a current, for rows that hold a direct voltage: a reading flows the wrong way only where it lies below both
    /// limits. Not above zero. [A]
    /// </summary>
    public double ReversedBelowA { get; init; }

    /// <summary>Whether power can flow one way only where the meter sat: no charger feeds power into the mains, and no USB port of a
    /// charger takes power.</summary>
    public bool FlowsOneWay { get; init; }

    /// <summary>Whether the meter sat at the wall, where voltage and current are effective values.</summary>
    public bool AtTheWall { get; init; }

    /// <summary>Readings above this are no charger's; they are counted as <c>implausible</c> and left out. [W]</summary>
    public double ImplausibleAboveW { get; init; } = 10_000;

    /// <summary>A charger of a portable device never takes or gives more than this for long. [W]</summary>
    [JsonInclude]
    internal double ChargerAtMostW { get; init; } = 10_000;

    /// <summary>Stretches of damaged readings, as a first reading of the whole log showed them; empty: none.</summary>
    public IReadOnlyList<MarkedStretch> Marked { get; init; } = [];

    /// <summary>Step of the energy counter as stated or seen in the first look; NaN where there is none or it cannot be told. [J]</summary>
    public double CounterStepJ { get; init; } = double.NaN;

    /// <summary>Energy of one of the unit in which the energy counter is printed. [J]</summary>
    public double CounterUnitJ { get; init; } = 1;

    /// <summary>Whether the log holds a temperature.</summary>
    public bool HasTemperature { get; init; }

    /// <summary>Only samples from here on. [s]</summary>
    public double FromS { get; init; } = double.NegativeInfinity;

    /// <summary>Only samples up to here. [s]</summary>
    public double ToS { get; init; } = double.PositiveInfinity;

    /// <summary>Whether a reading of power flows the wrong way, beyond what the meter's own zero may be off by.</summary>
    /// <param name="powerW">Power. [W]</param>
    /// <param name="voltageV">Voltage beside it; zero where unknown. [V]</param>
    internal bool IsReversed(double powerW, double voltageV) =>
        powerW < ReversedBelowW && !(voltageV is > 0 and <= PowerRule.GreatestDirectVoltageV && powerW >= ReversedBelowA * voltageV);

    /// <summary>The rules for a log as it was understood.</summary>
    public static SummaryRules For(LogLayout layout, PowerSource source, LogOptions options)
    {
        double stepW = layout.Resolution.GetValueOrDefault(LogQuantity.Power, 0);
        return new SummaryRules
        {
            Source = source,
            Samples = layout.Samples,
            ChangeThreshold = layout.ChangeThreshold,
            MedianIntervalS = layout.MedianIntervalS,
            RowsAbout = layout.RowsAbout,
            GapThresholdS = layout.GapThresholdS,
            IntervalS = layout.IntervalS,
            Gaps = options.Gaps,
            ReversedBelowW = -Math.Max(0.05, 2 * stepW),
            AtTheWall = options.Point is MeasuringPoint.Wall,
            FlowsOneWay = options.Point is MeasuringPoint.Wall or MeasuringPoint.Usb,
            ImplausibleAboveW = options.Point is MeasuringPoint.Usb or MeasuringPoint.Device or MeasuringPoint.Battery ? 500 : 10_000,

            // USB Power Delivery ends at 240 W; the adapter and its losses have room below a kilowatt.
            ChargerAtMostW = options.Point switch
            {
                MeasuringPoint.Wall => 1000,
                MeasuringPoint.Usb or MeasuringPoint.Device or MeasuringPoint.Battery => 300,
                _ => 10_000,
            },
            HasTemperature = layout.Has(LogQuantity.Temperature),
            CounterUnitJ = layout.Columns.FirstOrDefault(c => c.Quantity == LogQuantity.Energy)?.Factor ?? 1,
            CounterStepJ = layout.Resolution.GetValueOrDefault(LogQuantity.Energy, double.NaN),
        };
    }
}
