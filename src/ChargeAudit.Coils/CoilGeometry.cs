namespace ChargeAudit.Coils;

/// <summary>A flat round coil: turns evenly spread between two radii, in one or more layers.</summary>
public sealed record CoilGeometry
{
    /// <summary>Turns in each layer, 1 or more.</summary>
    public required int Turns { get; init; }

    /// <summary>Radius of the innermost turn's middle. [m]</summary>
    public required double InnerRadiusM { get; init; }

    /// <summary>Radius of the outermost turn's middle. [m]</summary>
    public required double OuterRadiusM { get; init; }

    /// <summary>Layers, 1 or more.</summary>
    public int Layers { get; init; } = 1;

    /// <summary>Distance between the middles of two layers. [m]</summary>
    public double LayerSpacingM { get; init; }

    /// <summary>Radius of a turn. A single turn lies midway.</summary>
    /// <param name="index">Number of the turn, counted from 0.</param>
    /// <returns>Radius. [m]</returns>
    public double RadiusM(int index) => Turns == 1
        ? (InnerRadiusM + OuterRadiusM) / 2
        : InnerRadiusM + ((OuterRadiusM - InnerRadiusM) * index / (Turns - 1));

    /// <summary>Mutual inductance with another coil in air, every turn of one with every turn of the other.</summary>
    /// <param name="other">The other coil.</param>
    /// <param name="gapM">Distance between the layers that face each other. [m]</param>
    /// <param name="offsetM">Distance between the axes. [m]</param>
    /// <returns>Mutual inductance. [H]</returns>
    public double MutualInductance(CoilGeometry other, double gapM, double offsetM)
    {
        ArgumentNullException.ThrowIfNull(other);
        double sum = 0;
        for (int layer = 0; layer < Layers; layer++)
        {
            for (int otherLayer = 0; otherLayer < other.Layers; otherLayer++)
            {
                double distanceM = gapM + (layer * LayerSpacingM) + (otherLayer * other.LayerSpacingM);
                for (int turn = 0; turn < Turns; turn++)
                {
                    for (int otherTurn = 0; otherTurn < other.Turns; otherTurn++)
                    {
                        sum += CircularFilament.MutualInductance(RadiusM(turn), other.RadiusM(otherTurn), distanceM, offsetM);
                    }
                }
            }
        }

        return sum;
    }
}
