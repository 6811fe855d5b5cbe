using ChargeAudit.Logs;
using ChargeAudit.Logs.Layout;

namespace ChargeAudit.Measuring.Integration;

/// <summary>What must be known of a log before its samples can be summed. The same rules go for every piece of one log.</summary>
public sealed record SummaryRules
{
    /// <summary>Which columns give real power.</summary>
    public required PowerSource Source { get; init; }

    /// <summary>What a reading stands for.</summary>
    public required SampleKind Samples { get; init; }

    /// <summary>Usual interval between rows. [s]</summary>
    public required double MedianIntervalS { get; init; }

    /// <summary>About how many rows the log holds, rather too few than too many; null where nobody knows.</summary>
    public long? RowsAbout { get; init; }

    /// <summary>An interval above this is a gap. [s]</summary>
    public required double GapThresholdS { get; init; }

    /// <summary>What is done with a gap.</summary>
    public GapPolicy Gaps { get; init; } = GapPolicy.Bridge;

    /// <summary>Readings below this flow the wrong way and are left out, counted as <c>reversed</c>; above it, a negative reading is noise about zero. [W]</summary>
    public double ReversedBelowW { get; init; } = -0.05;

    /// <summary>Readings above this are no charger's, counted as <c>implausible</c> and left out. [W]</summary>
    public double ImplausibleAboveW { get; init; } = 10_000;

    /// <summary>Step of the energy counter; NaN where there is none or it cannot be told. [J]</summary>
    public double CounterStepJ { get; init; } = double.NaN;

    /// <summary>Whether the log holds a temperature.</summary>
    public bool HasTemperature { get; init; }

    /// <summary>Only samples from here on. [s]</summary>
    public double FromS { get; init; } = double.NegativeInfinity;

    /// <summary>Only samples up to here. [s]</summary>
    public double ToS { get; init; } = double.PositiveInfinity;

    /// <summary>The rules for a log as it was understood.</summary>
    public static SummaryRules For(LogLayout layout, PowerSource source, LogOptions options)
    {
        double stepW = layout.Resolution.GetValueOrDefault(LogQuantity.Power, 0);
        return new SummaryRules
        {
            Source = source,
            Samples = layout.Samples,
            MedianIntervalS = layout.MedianIntervalS,
            RowsAbout = layout.RowsAbout,
            GapThresholdS = layout.GapThresholdS,
            Gaps = options.Gaps,
            ReversedBelowW = -Math.Max(0.05, 2 * stepW),
            ImplausibleAboveW = options.Point is MeasuringPoint.Usb or MeasuringPoint.Device or MeasuringPoint.Battery ? 500 : 10_000,
            HasTemperature = layout.Has(LogQuantity.Temperature),
            CounterStepJ = layout.Resolution.GetValueOrDefault(LogQuantity.Energy, double.NaN),
        };
    }
}
