using ChargeAudit.Studies;

namespace ChargeAudit.Simulation.Scenarios;

/// <summary>A way of charging: what stands between wall and device.</summary>
public sealed record MethodModel
{
    /// <summary>Name in the scenario and in the study.</summary>
    public required string Name { get; init; }

    /// <summary>By cable or on a pad.</summary>
    public required MethodKind Kind { get; init; }

    /// <summary>The adapter at the wall.</summary>
    public required AdapterModel Adapter { get; init; }

    /// <summary>The cable from the adapter to the device or to the pad.</summary>
    public required CableModel Cable { get; init; }

    /// <summary>The pad; null by cable.</summary>
    public PadModel? Pad { get; init; }

    /// <summary>Most that the device takes this way. [W]</summary>
    public double InputLimitW { get; init; } = double.PositiveInfinity;

    /// <summary>How long device and charger talk before full power. [s]</summary>
    public double NegotiationS { get; init; }

    /// <summary>Most that the device takes meanwhile. [W]</summary>
    public double NegotiationW { get; init; } = double.PositiveInfinity;
}
