namespace ChargeAudit.Reports.Text;

/// <summary>Sentences in groups that say the same, each group in the order of its sentences.</summary>
internal sealed class SentenceGroups
{
    // A sentence of so many names sums up already, and there are few of its like; it is compared with one after the other.
    private const int MostLookedUp = 8;

    private readonly List<List<(Said Said, int At)>> _groups = [];
    private readonly Dictionary<string, int> _first = new(StringComparer.Ordinal);
    private readonly Dictionary<string, List<int>> _longByFrame = new(StringComparer.Ordinal);

    /// <summary>The groups, in the order of their first sentences.</summary>
    public IReadOnlyList<List<(Said Said, int At)>> All => _groups;

    /// <summary>Adds a sentence to the first group whose first sentence says the same, or to a new one.</summary>
    /// <param name="said">The sentence.</param>
    /// <param name="at">Its place among all.</param>
    public void Add(Said said, int at)
    {
        bool lookedUp = said.NamesInOrder.Count <= MostLookedUp;
        IReadOnlyList<string> keys = lookedUp ? [.. KeysOf(said)] : [];
        int found = lookedUp
            ? keys.Where(_first.ContainsKey).Select(k => _first[k]).DefaultIfEmpty(-1).Min()
            : LongOf(said).Where(g => _groups[g][0].Said.SaysTheSame(said)).DefaultIfEmpty(-1).First();
        if (found >= 0)
        {
            _groups[found].Add((said, at));
            return;
        }

        foreach (string key in keys)
        {
            _first.TryAdd(key, _groups.Count);
        }

        if (!lookedUp)
        {
            LongOf(said).Add(_groups.Count);
        }

        _groups.Add([(said, at)]);
    }

    private List<int> LongOf(Said said)
    {
        if (!_longByFrame.TryGetValue(said.Frame, out var known))
        {
            _longByFrame[said.Frame] = known = [];
        }

        return known;
    }

    // Two sentences of one frame differ in one name at most where they have a key in common: their names with one of them left open at
    // some or all of its places.
    private static IEnumerable<string> KeysOf(Said said)
    {
        var names = said.NamesInOrder;
        yield return Key(said.Frame, names, 0);
        foreach (string name in names.Distinct(StringComparer.Ordinal))
        {
            int places = 0;
            for (int i = 0; i < names.Count; i++)
            {
                places |= names[i] == name ? 1 << i : 0;
            }

            for (int open = places; open > 0; open = (open - 1) & places)
            {
                yield return Key(said.Frame, names, open);
            }
        }
    }

    private static string Key(string frame, IReadOnlyList<string> names, int open) =>
        string.Join('\u0004', names.Select((n, i) => (open & (1 << i)) != 0 ? "\u0005" : n).Prepend(frame));
}
