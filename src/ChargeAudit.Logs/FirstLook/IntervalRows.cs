using ChargeAudit.Metrology;

namespace ChargeAudit.Logs.FirstLook;

/// <summary>A log whose rows belong to intervals, not to instants.</summary>
/// <param name="Kind">What the mean power of a row stands for.</param>
/// <param name="LengthS">Length of an interval; 0 where it is not known. [s]</param>
/// <param name="AreMeans">Whether a row holds a mean, and not an energy.</param>
internal sealed record IntervalRows(SampleKind Kind, double LengthS, bool AreMeans)
{
    /// <summary>The form in words.</summary>
    public string Words => (AreMeans ? "means of intervals" : "energies of intervals")
        + (LengthS > 0 ? Prose.Of($" of {LengthS:0.###} s") : "");

    /// <summary>Why the rows are taken so.</summary>
    public string Why => AreMeans ? "each row holds the mean of an interval" : "each row holds the energy of an interval";
}
