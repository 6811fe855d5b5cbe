using System.Text.Json.Serialization;
using ChargeAudit.Metrology.Diagnostics;

namespace ChargeAudit.Measuring.Segmentation;

/// <summary>The modes of a log.</summary>
/// <param name="Modes">In order, without holes, over the whole log; neighbours differ in mode or are charges of their own.</param>
/// <param name="Doubts">What to doubt.</param>
/// <param name="Thresholds">The levels and the noise that the log itself gave.</param>
public sealed record ModeFinding(IReadOnlyList<ModeSpan> Modes, IReadOnlyList<Doubt> Doubts, ModeThresholds Thresholds)
{
    /// <summary>The parts of each charge and the top-ups and attempts around them, in order; they do not cover the log.</summary>
    public IReadOnlyList<ModeDetail> Details { get; init; } = [];
}

/// <summary>Levels and noise that a log itself gave.</summary>
/// <param name="NoiseW">Standard deviation of a reading where the log is quietest. [W]</param>
/// <param name="StepW">Step of the readings' lattice; zero where none was found. [W]</param>
/// <param name="PlateauW">Greatest power kept up for the shortest charge. [W]</param>
/// <param name="NoLoadW">Level of the no-load mode; null where the log has none. [W]</param>
/// <param name="MaintenanceW">Level of the maintenance mode, top-ups left out; null where the log has none. [W]</param>
/// <param name="OffBelowW">A level below this is off. [W]</param>
public sealed record ModeThresholds(
    double NoiseW, double StepW, double PlateauW, double? NoLoadW, double? MaintenanceW, double OffBelowW);

/// <summary>What a detail is.</summary>
public enum ModeDetailKind
{
    /// <summary>Charge at the power that charger and device agreed on.</summary>
    [JsonStringEnumMemberName("constant-power")] ConstantPower,

    /// <summary>Charge whose power falls while the battery fills up.</summary>
    [JsonStringEnumMemberName("taper")] Taper,

    /// <summary>Charge at a clearly lower power before the taper, such as a pad does when hot.</summary>
    [JsonStringEnumMemberName("throttled")] Throttled,

    /// <summary>An interruption within a charge.</summary>
    [JsonStringEnumMemberName("pause")] Pause,

    /// <summary>A wait for hours within a charge that the device finishes later, such as at four fifths of full.</summary>
    [JsonStringEnumMemberName("hold")] Hold,

    /// <summary>A short burst in maintenance.</summary>
    [JsonStringEnumMemberName("top-up")] TopUp,

    /// <summary>A short burst in no-load, such as a device laid down badly.</summary>
    [JsonStringEnumMemberName("attempt")] Attempt,
}

/// <summary>A stretch inside a mode.</summary>
/// <param name="Kind">What it is.</param>
/// <param name="StartS">Start. [s]</param>
/// <param name="EndS">End. [s]</param>
/// <param name="MeanPowerW">Mean power. [W]</param>
public sealed record ModeDetail(ModeDetailKind Kind, double StartS, double EndS, double MeanPowerW);
