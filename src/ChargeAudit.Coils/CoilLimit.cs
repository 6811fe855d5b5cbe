using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.Coils;

/// <summary>
/// The measured efficiency beside the best possible one: how much of a pad's loss its coils set, and how much the rest (inverter,
/// rectifier, control, a load off its best value) adds. The coils' part is what even lossless electronics with the best load would lose
/// while delivering the same energy; the rest can be avoided without other coils.
/// </summary>
public sealed record CoilLimit
{
    private CoilLimit(Measured efficiency, double possible, Measured coilLoss, Measured rest) =>
        (MeasuredEfficiency, PossibleEfficiency, CoilLoss, Rest) = (efficiency, possible, coilLoss, rest);

    /// <summary>Energy out of the receiver over energy into the pad. [1]</summary>
    public Measured MeasuredEfficiency { get; }

    /// <summary>The coils' best. [1]</summary>
    public double PossibleEfficiency { get; }

    /// <summary>Loss set by coupling and coil quality, in the unit of the energies.</summary>
    public Measured CoilLoss { get; }

    /// <summary>The rest of the loss, in the unit of the energies; below zero where data contradict each other.</summary>
    public Measured Rest { get; }

    /// <summary>
    /// Whether the pad does better than its coils can, beyond what the uncertainty explains: then the coil data or the measurement is
    /// wrong. Where the uncertainty is unknown, any amount counts.
    /// </summary>
    public bool Contradicts => Rest.Interval() is { } interval ? interval.High < 0 : Rest.Value < 0;

    /// <summary>Splits a measured loss.</summary>
    /// <param name="padInput">Energy (or mean power) into the pad.</param>
    /// <param name="receiverOutput">Energy (or mean power) out of the receiver, in the same unit.</param>
    /// <param name="link">The coils.</param>
    /// <returns>The two parts; they sum to the whole loss.</returns>
    /// <exception cref="ArgumentException">The units differ.</exception>
    public static CoilLimit Split(Measured padInput, Measured receiverOutput, CoilLink link)
    {
        ArgumentNullException.ThrowIfNull(padInput);
        ArgumentNullException.ThrowIfNull(receiverOutput);
        ArgumentNullException.ThrowIfNull(link);
        double possible = link.MaximumEfficiency;
        Measured coilLoss = ((1 / possible) - 1) * receiverOutput;
        Measured rest = padInput - receiverOutput - coilLoss;
        return new CoilLimit(Measured.Quotient(receiverOutput, padInput), possible, coilLoss, rest);
    }

    /// <summary>One sentence for people.</summary>
    /// <returns>Such as “Of 7.1 Wh lost, 1.8 Wh are set by coupling and coil quality; 5.3 Wh are the rest.”</returns>
    public override string ToString()
    {
        string unit = CoilLoss.Unit;
        double lost = CoilLoss.Value + Rest.Value;
        return Contradicts
            ? Prose.Of(
                $"The pad delivers {100 * MeasuredEfficiency.Value:F1} % where its coils allow {100 * PossibleEfficiency:F1} % at most: "
                + $"the coil data or a log is wrong.")
            : Prose.Of(
                $"Of {lost:G3} {unit} lost, {CoilLoss.Value:G3} {unit} are set by coupling and coil quality; {Rest.Value:G3} {unit} are "
                + $"the rest.");
    }
}
