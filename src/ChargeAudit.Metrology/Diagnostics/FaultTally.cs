using ChargeAudit.Metrology.Diagnostics;

namespace ChargeAudit.Measuring.Integration;

/// <summary>Counts one kind of fault in bounded memory.</summary>
internal readonly record struct FaultTally(long FirstLine, long LastLine, long Count)
{
    public FaultTally Plus(long line) => new(Count == 0 ? line : FirstLine, line, Count + 1);

    public static FaultTally Join(FaultTally a, FaultTally b) => a.Count == 0 ? b : b.Count == 0 ? a : new(a.FirstLine, b.LastLine, a.Count + b.Count);

    public void Report(List<Fault> faults, FaultKind kind, string detail)
    {
        if (Count > 0)
        {
            faults.Add(new Fault(kind, FirstLine, LastLine, Count, detail));
        }
    }
}
