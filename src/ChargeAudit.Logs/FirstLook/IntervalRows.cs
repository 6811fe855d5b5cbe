using ChargeAudit.Metrology;

namespace ChargeAudit.Logs.FirstLook;

/// <summary>A log whose rows belong to intervals, not to instants.</summary>
/// <param name="Kind">What the mean power of a row stands for.</param>
/// <param name="LengthS">Length of an interval; 0 where it is not known. [s]</param>
/// <param name="What">What a row holds: energies, or means.</param>
internal sealed record IntervalRows(SampleKind Kind, double LengthS, string What)
{
    /// <summary>The form in words.</summary>
    public string Words => LengthS > 0 ? Prose.Of($"{What} of intervals of {LengthS:0.###} s") : $"{What} of intervals";

    /// <summary>Why the rows are taken so.</summary>
    public string Why => What == "means" ? "each row holds the mean of an interval" : "each row holds the energy of an interval";
}
