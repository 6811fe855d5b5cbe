using ChargeAudit.Logs;
using ChargeAudit.Measuring.Segmentation;

namespace ChargeAudit.Simulation.Physics;

/// <summary>A short stretch of a simulated charge in which every power stays as it is.</summary>
public readonly record struct FlowStep
{
    /// <summary>True time of its start, from the run's start. [s]</summary>
    public required double StartS { get; init; }

    /// <summary>Its length. [s]</summary>
    public required double DurationS { get; init; }

    /// <summary>What the load is doing.</summary>
    public required Mode Mode { get; init; }

    /// <summary>Real power from the mains. [W]</summary>
    public required double WallW { get; init; }

    /// <summary>RMS mains voltage. [V]</summary>
    public required double MainsV { get; init; }

    /// <summary>Power factor at the wall. [1]</summary>
    public required double PowerFactor { get; init; }

    /// <summary>Voltage at the adapter's output. [V]</summary>
    public required double UsbV { get; init; }

    /// <summary>Current out of the adapter. [A]</summary>
    public required double UsbA { get; init; }

    /// <summary>Voltage at the device's input. [V]</summary>
    public required double DeviceV { get; init; }

    /// <summary>Current into the device. [A]</summary>
    public required double DeviceA { get; init; }

    /// <summary>Voltage at the battery's terminals. [V]</summary>
    public required double BatteryV { get; init; }

    /// <summary>Current into the battery; negative where it feeds the device. [A]</summary>
    public required double BatteryA { get; init; }

    /// <summary>Growth of the energy in the battery's chemistry. [W]</summary>
    public required double StoredW { get; init; }

    /// <summary>Where the rest goes.</summary>
    public required PowerLosses Losses { get; init; }

    /// <summary>State of charge at the end of the step. [1]</summary>
    public required double ShareAfter { get; init; }

    /// <summary>Temperature of the device at the end of the step. [°C]</summary>
    public required double TemperatureC { get; init; }

    /// <summary>True time of its end. [s]</summary>
    public double EndS => StartS + DurationS;

    /// <summary>Real power at a measuring point.</summary>
    /// <param name="point">The point.</param>
    /// <returns>Power in the direction of the battery. [W]</returns>
    public double PowerW(MeasuringPoint point) => point switch
    {
        MeasuringPoint.Wall => WallW,
        MeasuringPoint.Usb => UsbV * UsbA,
        MeasuringPoint.Device => DeviceV * DeviceA,
        _ => BatteryV * BatteryA,
    };

    /// <summary>Voltage at a measuring point; RMS on AC.</summary>
    /// <param name="point">The point.</param>
    /// <returns>Voltage. [V]</returns>
    public double VoltageV(MeasuringPoint point) => point switch
    {
        MeasuringPoint.Wall => MainsV,
        MeasuringPoint.Usb => UsbV,
        MeasuringPoint.Device => DeviceV,
        _ => BatteryV,
    };

    /// <summary>Current at a measuring point; RMS on AC.</summary>
    /// <param name="point">The point.</param>
    /// <returns>Current. [A]</returns>
    public double CurrentA(MeasuringPoint point) => point switch
    {
        MeasuringPoint.Wall => WallW / (MainsV * PowerFactor),
        MeasuringPoint.Usb => UsbA,
        MeasuringPoint.Device => DeviceA,
        _ => BatteryA,
    };
}
