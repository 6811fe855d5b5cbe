using System.Text.Json.Serialization;
using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.Comparing.Procedures;

/// <summary>Where a figure stands beside a published limit.</summary>
public enum Standing
{
    /// <summary>On the right side, interval and all.</summary>
    [JsonStringEnumMemberName("inside")] Inside,

    /// <summary>On the wrong side, interval and all.</summary>
    [JsonStringEnumMemberName("beyond")] Beyond,

    /// <summary>The limit lies inside the interval, or the uncertainty is not known.</summary>
    [JsonStringEnumMemberName("cannot-tell")] CannotTell,

    /// <summary>There is no figure, or no limit, to compare.</summary>
    [JsonStringEnumMemberName("not-compared")] NotCompared,
}

/// <summary>A figure beside a published limit, as information.</summary>
/// <param name="Yardstick">The limit.</param>
/// <param name="Limit">Its value here; null where it is not known to this program.</param>
/// <param name="Value">The figure.</param>
/// <param name="Standing">Where the figure stands.</param>
/// <param name="Text">All of it as a sentence with source, date and mark.</param>
public sealed record YardstickFinding(Yardstick Yardstick, double? Limit, Figure Value, Standing Standing, string Text)
{
    /// <summary>Why this may be the wrong limit to look at, as a sentence; null where nothing speaks against it. It stands in
    /// <see cref="Text"/> too.</summary>
    public string? Doubt { get; init; }
}
