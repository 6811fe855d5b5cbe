using System.Collections.Concurrent;
using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.Measuring;

/// <summary>The sources of one log's figures, each held once: every stretch of it names those of its meter again. Safe for several
/// threads.</summary>
internal sealed class KnownSources
{
    private readonly ConcurrentDictionary<InfluenceSource, InfluenceSource> _known = new(new ByAll());

    /// <summary>The same components, of sources that are known where one is alike in all it says.</summary>
    public IEnumerable<UncertaintyComponent> Of(IEnumerable<UncertaintyComponent> components) =>
        components.Select(c => c with { Source = _known.GetOrAdd(c.Source, c.Source) });

    // A source is the same by its name; here all that it says has to be.
    private sealed class ByAll : IEqualityComparer<InfluenceSource>
    {
        public bool Equals(InfluenceSource? x, InfluenceSource? y) => x is null || y is null ? x is null && y is null
            : x.Equals(y) && Rest(x) == Rest(y);

        public int GetHashCode(InfluenceSource source) => source.GetHashCode();

        private static (double, bool, ErrorShape, SourceKind, string?, double, int?, bool) Rest(InfluenceSource s) =>
            (s.DegreesOfFreedom, s.Shared, s.Shape, s.Kind, s.ObservedTogether, s.Middle, s.Observations, s.InBlocks);
    }
}
