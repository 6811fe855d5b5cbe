namespace ChargeAudit.Metrology.Diagnostics;

/// <summary>Counts one kind of fault in bounded memory.</summary>
/// <param name="FirstLine">Line of the first; 0 where there is none.</param>
/// <param name="LastLine">Line of the last.</param>
/// <param name="Count">How many. [1]</param>
public readonly record struct FaultTally(long FirstLine, long LastLine, long Count)
{
    /// <summary>With one more fault, on a later line.</summary>
    /// <param name="line">Line number in the file.</param>
    public FaultTally Plus(long line) => new(Count == 0 ? line : FirstLine, line, Count + 1);

    /// <summary>The faults of two neighbouring pieces of a file, in their order.</summary>
    public static FaultTally Join(FaultTally a, FaultTally b) => a.Count == 0 ? b : b.Count == 0
        ? a
        : new(a.FirstLine, b.LastLine, a.Count + b.Count);

    /// <summary>The same faults on later lines; nothing where there are none.</summary>
    /// <param name="lines">How many lines further down.</param>
    public FaultTally Shifted(long lines) => Count == 0 ? this : new(FirstLine + lines, LastLine + lines, Count);

    /// <summary>The fault that was counted.</summary>
    /// <param name="kind">What is wrong.</param>
    /// <param name="detail">One sentence.</param>
    public Fault ToFault(FaultKind kind, string detail) => new(kind, FirstLine, LastLine, Count, detail);

    /// <summary>Adds the fault that was counted to a list; nothing where none was.</summary>
    /// <param name="faults">The list.</param>
    /// <param name="kind">What is wrong.</param>
    /// <param name="detail">One sentence.</param>
    public void Report(ICollection<Fault> faults, FaultKind kind, string detail)
    {
        if (Count > 0)
        {
            faults.Add(ToFault(kind, detail));
        }
    }
}
