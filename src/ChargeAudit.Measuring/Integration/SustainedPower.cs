namespace ChargeAudit.Measuring.Integration;

/// <summary>The highest power kept up for about ten rows: a stretch that was not measured can hide no more than that.</summary>
internal static class SustainedPower
{
    /// <summary>That power. [W]</summary>
    public static double OfW(PowerEnvelope envelope)
    {
        var coarse = envelope.Reduced(Math.Max(16, envelope.Count / 10));
        double greatest = 0;
        for (int i = 0; i < coarse.Count; i++)
        {
            greatest = double.IsNaN(coarse[i].MeanPowerW) ? greatest : Math.Max(greatest, coarse[i].MeanPowerW);
        }

        return greatest;
    }
}
