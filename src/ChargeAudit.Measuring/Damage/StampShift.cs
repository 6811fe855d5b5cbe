using ChargeAudit.Logs;
using ChargeAudit.Measuring.Integration;

namespace ChargeAudit.Measuring.Damage;

/// <summary>From the middle of a reading's interval, where the envelope has it, to its stamp.</summary>
internal static class StampShift
{
    /// <summary>What is added to a time of the envelope. [s]</summary>
    public static double Of(SummaryRules rules) => rules.Samples switch
    {
        SampleKind.AverageEnding => 0.5 * rules.MedianIntervalS,
        SampleKind.AverageStarting => -0.5 * rules.MedianIntervalS,
        _ => 0,
    };
}
