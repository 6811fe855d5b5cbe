using ChargeAudit.Measuring.Integration;

namespace ChargeAudit.Tests.Comparing.Procedures;

/// <summary>Invented 24 h records.</summary>
internal static class ProcedureCases
{
    /// <summary>An envelope of rectangles of constant power, one after another.</summary>
    internal static PowerEnvelope Steps(params (double LengthS, double PowerW)[] steps)
    {
        var envelope = PowerEnvelope.ForInterval(10);
        double at = 0;
        foreach (var (length, power) in steps)
        {
            envelope.AddInterval(new PowerInterval(at, at + length, power, power));
            at += length;
        }

        return envelope;
    }
}
