namespace ChargeAudit.Logs.Layout;

/// <summary>What the rows looked at say about a quantity's steps.</summary>
/// <param name="Printed">One in the last printed place. [coherent unit]</param>
/// <param name="Lattice">Step of the lattice on which the values lie; null where there are too few different ones to tell. [coherent
/// unit]</param>
/// <param name="Different">Different values, at most <see cref="Kept"/>, the smallest ones.</param>
internal sealed record StepEvidence(double Printed, double? Lattice, double[] Different)
{
    /// <summary>How many different values are kept, to be looked at with those of the meter's other logs.</summary>
    public const int Kept = 256;

    /// <summary>The step: the coarser of the two. [coherent unit]</summary>
    public double Step => Math.Max(Printed, Lattice ?? 0);
}
