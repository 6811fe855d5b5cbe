using System.Text;
using ChargeAudit.Checking;
using ChargeAudit.Logs;
using ChargeAudit.Logs.Sources;
using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.Pooling.Audits;

/// <summary>
/// Which errors two audits share. An error of an instrument is one error in all audits that give the instrument the same key. What belongs
/// to logs is one where the logs are, by their hashes: a reference run that two audits use. Everything else is the audit's own. All of it
/// goes by owner, part and kind; no name is parsed.
/// </summary>
/// <param name="audit">The audit whose sources are named.</param>
/// <param name="point">The measuring point.</param>
/// <param name="namesAreInstruments">Whether a meter without a key counts as one with its namesake.</param>
internal sealed class SharedSources(PooledAudit audit, MeasuringPoint point, bool namesAreInstruments)
{
    /// <summary>A figure with its sources named so that those which audits share are the same.</summary>
    public Measured Of(Measured figure) => Measured.From(
        figure.Value, figure.Unit, figure.Components.Select(c => c with { Source = Of(c.Source) }), figure.UnknownBecause);

    private InfluenceSource Of(InfluenceSource source)
    {
        if (source.Owner is SourceOwner.Meter or SourceOwner.Adapter && source.Shared)
        {
            string name = source.OwnerName ?? "";
            return audit.Instruments.TryGetValue(name, out string? key) ? source with { Design = "instrument", OwnerName = key }
                : namesAreInstruments ? source with { Design = "name" }
                : source with { Design = audit.Mark };
        }

        return source.Owner switch
        {
            SourceOwner.Use or SourceOwner.Tariff or SourceOwner.Carbon => source,
            SourceOwner.Method when audit.Design.Methods.FirstOrDefault(m => m.Name == source.OwnerName) is { } method => source with
            {
                Design = LogsOf(method),
                OwnerName = null,
            },
            SourceOwner.Log when HashOf(source.OwnerName) is { } hash => source with { Design = hash, OwnerName = null },
            _ => source with { Design = audit.Mark },
        };
    }

    private string LogsOf(DesignMethod method)
    {
        string[] logs = [.. method.Runs.Where(r => r.Points.ContainsKey(point)).SelectMany(r => r.Points[point].Sha256)
            .Order(StringComparer.Ordinal)];
        return logs.Length == 0 ? audit.Mark : FileHash.Sha256(Encoding.ASCII.GetBytes(string.Join('\n', logs)));
    }

    private string? HashOf(string? log) => audit.Design.Methods.SelectMany(m => m.Runs).SelectMany(r => r.Points.Values)
        .Where(p => p.Files[0] == log && p.Sha256.Count > 0).Select(p => p.Sha256[0]).FirstOrDefault();
}
