using ChargeAudit.Logs;
using ChargeAudit.Measuring.Segmentation;
using ChargeAudit.Metrology.Statistics;

namespace ChargeAudit.Simulation.Physics;

/// <summary>The exact power flows of one run, step after step without a gap.</summary>
public sealed record PowerTrace
{
    /// <summary>The steps in order.</summary>
    public required IReadOnlyList<FlowStep> Steps { get; init; }

    /// <summary>Modes in order, from the run's start to its end.</summary>
    public required IReadOnlyList<ModeSpan> Modes { get; init; }

    /// <summary>True state of charge when the device was put on; NaN without one. [1]</summary>
    public double StartShare { get; init; } = double.NaN;

    /// <summary>Distance between the coils' axes as the hand left them; 0 by cable. [m]</summary>
    public double OffsetM { get; init; }

    /// <summary>Coupling of the coils; NaN by cable. [1]</summary>
    public double Coupling { get; init; } = double.NaN;

    /// <summary>Length. [s]</summary>
    public double DurationS => Steps.Count == 0 ? 0 : Steps[^1].EndS;

    /// <summary>Energy at a measuring point over one mode.</summary>
    /// <param name="point">The point.</param>
    /// <param name="mode">The mode.</param>
    /// <returns>Energy. [Wh]</returns>
    public double EnergyWh(MeasuringPoint point, Mode mode) => SumWh(mode, step => step.PowerW(point));

    /// <summary>Time integral of any power over one mode.</summary>
    /// <param name="mode">The mode.</param>
    /// <param name="powerW">The power of a step. [W]</param>
    /// <returns>Energy. [Wh]</returns>
    public double SumWh(Mode mode, Func<FlowStep, double> powerW)
    {
        ArgumentNullException.ThrowIfNull(powerW);
        CompensatedSum sum = default;
        foreach (FlowStep step in Steps)
        {
            if (step.Mode == mode)
            {
                sum += powerW(step) * step.DurationS;
            }
        }

        return sum.Value / 3600;
    }

    /// <summary>Mean power at a measuring point over one mode.</summary>
    /// <param name="point">The point.</param>
    /// <param name="mode">The mode.</param>
    /// <returns>Mean power; NaN where the mode does not occur. [W]</returns>
    public double MeanW(MeasuringPoint point, Mode mode) => EnergyWh(point, mode) * 3600 / DurationOfS(mode);

    /// <summary>How long a mode lasts in all.</summary>
    /// <param name="mode">The mode.</param>
    /// <returns>Time. [s]</returns>
    public double DurationOfS(Mode mode)
    {
        CompensatedSum sum = default;
        foreach (FlowStep step in Steps)
        {
            sum += step.Mode == mode ? step.DurationS : 0;
        }

        return sum.Value;
    }
}
