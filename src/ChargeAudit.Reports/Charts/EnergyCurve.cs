using ChargeAudit.Comparing.Runs;

namespace ChargeAudit.Reports.Charts;

/// <summary>A run's energy added up from the start of its charge.</summary>
/// <param name="TimesS">Times from that start. [s]</param>
/// <param name="EnergiesWh">Energy up to them. [Wh]</param>
internal sealed record EnergyCurve(double[] TimesS, double[] EnergiesWh)
{
    /// <summary>The curve of a run.</summary>
    /// <param name="run">The run.</param>
    /// <param name="toS">End, from the start of the charge; or that of the log, if it comes before. [s]</param>
    /// <param name="points">How many steps.</param>
    public static EnergyCurve Of(RunPointResult run, double toS, int points)
    {
        var envelope = run.Log.Envelope;
        double end = Math.Min(toS, envelope.StartS(envelope.Count) - run.Charge.StartS);
        var curve = new EnergyCurve(new double[points + 1], new double[points + 1]);
        var (xs, ys) = (curve.TimesS, curve.EnergiesWh);
        for (int i = 1; i <= points; i++)
        {
            xs[i] = end * i / points;
            ys[i] = ys[i - 1] + (envelope.EnergyBetweenJ(run.Charge.StartS + xs[i - 1], run.Charge.StartS + xs[i]) / 3600);
        }

        return curve;
    }
}
