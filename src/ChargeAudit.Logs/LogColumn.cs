using ChargeAudit.Metrology;

namespace ChargeAudit.Logs;

/// <summary>How one column of a log was understood.</summary>
/// <param name="Index">Position in the row, counted from 0.</param>
/// <param name="Header">The header's words, or the column's number where there is no header.</param>
/// <param name="Quantity">What it holds.</param>
/// <param name="Unit">Symbol of the unit as understood, such as <c>mA</c>; empty for pure numbers and for text times.</param>
/// <param name="Factor">Coherent SI units per unit of the column: 0.001 for mA.</param>
/// <param name="Why">How that was decided, as a short phrase.</param>
public sealed record LogColumn(int Index, string Header, LogQuantity Quantity, string Unit, double Factor, string Why)
{
    /// <summary>What is added after the factor; other than 0 only for temperatures in K or °F, which are turned into °C.</summary>
    public double Offset { get; init; }

    /// <summary>
    /// Whether it is a power factor that only its header, <c>cos φ</c>, calls so: it may be the displacement factor, which leaves
    /// distortion out and lies above the true one. A column that the user names as the power factor is taken at the user's word.
    /// </summary>
    public bool MayBeDisplacement { get; init; }
}
