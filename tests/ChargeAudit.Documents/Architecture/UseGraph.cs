namespace ChargeAudit.Documents.Architecture;

/// <summary>Which room uses which, where a room is a project or a namespace.</summary>
public sealed class UseGraph
{
    private readonly SortedDictionary<string, SortedSet<string>> _uses = new(StringComparer.Ordinal);

    /// <summary>A graph of rooms.</summary>
    /// <param name="rooms">All rooms.</param>
    /// <param name="edges">Who uses whom; a room's use of itself is left out.</param>
    public UseGraph(IEnumerable<string> rooms, IEnumerable<(string From, string To)> edges)
    {
        foreach (string room in rooms)
        {
            _uses[room] = new SortedSet<string>(StringComparer.Ordinal);
        }

        foreach (var (from, to) in edges)
        {
            if (from != to)
            {
                _uses[from].Add(to);
            }
        }
    }

    /// <summary>The graph of the rooms that types stand in.</summary>
    /// <param name="code">Types and their uses.</param>
    /// <param name="room">The room of a type.</param>
    public static UseGraph Of(CompiledCode code, Func<CompiledType, string> room) =>
        new(code.Types.Select(room), code.Uses.Select(u => (room(u.From), room(u.To))));

    /// <summary>All rooms, by name.</summary>
    public IReadOnlyCollection<string> Rooms => _uses.Keys;

    /// <summary>The rooms that one uses, by name.</summary>
    /// <param name="room">The room.</param>
    public IReadOnlyCollection<string> UsedBy(string room) => _uses[room];

    /// <summary>Rooms that can be reached from one along the arrows, itself only where it stands in a cycle.</summary>
    /// <param name="room">The room.</param>
    public IReadOnlySet<string> Reached(string room)
    {
        var reached = new HashSet<string>(StringComparer.Ordinal);
        var open = new Stack<string>(_uses[room]);
        while (open.TryPop(out string? next))
        {
            if (reached.Add(next))
            {
                foreach (string further in _uses[next])
                {
                    open.Push(further);
                }
            }
        }

        return reached;
    }

    /// <summary>Groups of rooms that use one another in a circle; empty where all arrows go one way.</summary>
    public IReadOnlyList<IReadOnlyList<string>> Cycles()
    {
        var reached = Rooms.ToDictionary(r => r, Reached, StringComparer.Ordinal);
        return [.. Rooms.Where(r => reached[r].Contains(r))
            .GroupBy(r => Rooms.First(other => reached[r].Contains(other) && reached[other].Contains(r)), StringComparer.Ordinal)
                .Select(g => (IReadOnlyList<string>)[.. g])];
    }

    /// <summary>The same graph without the arrows that follow from others, for a drawing; of a graph without cycles.</summary>
    public UseGraph WithoutImplied() =>
        new(Rooms,
        _uses.SelectMany(u => u.Value.Where(to => !u.Value.Any(over => over != to && Reached(over).Contains(to)))
        .Select(to => (u.Key, to))));
}
