using ChargeAudit.Analysis.Measuring;
using ChargeAudit.Analysis.Standby;
using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.Analysis.Auditing;

/// <summary>The stand-by power of one log made for the purpose, by the published sampling method, with the meter's errors on top of the scatter.</summary>
internal static class StandbyAssembler
{
    private const int LeastReadings = 6;

    /// <summary>The power and what to think of it.</summary>
    public static (Measured Power, IReadOnlyList<string> Notes) Of(MeasuredLog log)
    {
        var result = log.Result;
        var envelope = result.Envelope;
        string file = result.Files[0];
        var samples = StandbySamples.Of(envelope, envelope.OriginS, envelope.StartS(envelope.Count), result.Layout.Samples, result.Point);
        if (samples.PowerW.Count < LeastReadings)
        {
            return (log.Energies.MeanPowerW(double.NegativeInfinity, double.PositiveInfinity, "no-load"), [$"{file}: too short for the published sampling method; the mean of all of it was taken."]);
        }

        var finding = StandbyPower.BySampling(samples, $"log:{file}/stand-by-scatter");

        // The same scatter is in the log's noise already; the method's own estimate, which knows how readings hang together, takes its place.
        var meter = log.Energies.MeanPowerW(finding.FromS, finding.ToS, "no-load").Components
            .Where(c => !c.Source.Id.EndsWith("-noise", StringComparison.Ordinal));
        var power = Measured.From(
            finding.Power.Value, finding.Power.Unit, finding.Power.Components.Concat(meter), log.Energies.MeanPowerW(finding.FromS, finding.ToS, "no-load").UnknownBecause);
        return (power, [.. finding.Notes.Prepend(finding.Wording).Select(n => $"{file}: {n}")]);
    }
}
