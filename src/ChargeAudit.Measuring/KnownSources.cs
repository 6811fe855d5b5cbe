using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.Measuring;

/// <summary>The sources of one log's figures, each held once: every stretch of it names those of its meter again. Safe for several
/// threads.</summary>
internal sealed class KnownSources
{
    // A table that many threads write to at once takes a kilobyte empty, and an audit holds one of these for each log.
    private readonly HashSet<InfluenceSource> _known = new(ByAll.Same);

    /// <summary>The same components, of sources that are known where one is alike in all it says.</summary>
    public IEnumerable<UncertaintyComponent> Of(IEnumerable<UncertaintyComponent> components) =>
        components.Select(c => c with { Source = Known(c.Source) });

    private InfluenceSource Known(InfluenceSource source)
    {
        lock (_known)
        {
            if (_known.TryGetValue(source, out var known))
            {
                return known;
            }

            _known.Add(source);
            return source;
        }
    }

    // A source is the same by its name; here all that it says has to be.
    private sealed class ByAll : IEqualityComparer<InfluenceSource>
    {
        public static readonly ByAll Same = new();

        public bool Equals(InfluenceSource? x, InfluenceSource? y) => x is null || y is null ? x is null && y is null
            : x.Equals(y) && Rest(x) == Rest(y);

        public int GetHashCode(InfluenceSource source) => source.GetHashCode();

        private static (double, bool, ErrorShape, SourceKind, string?, double, int?, bool) Rest(InfluenceSource s) =>
            (s.DegreesOfFreedom, s.Shared, s.Shape, s.Kind, s.ObservedTogether, s.Middle, s.Observations, s.InBlocks);
    }
}
