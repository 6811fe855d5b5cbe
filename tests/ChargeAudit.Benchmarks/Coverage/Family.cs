using ChargeAudit.LogMaker.Coverage;
using ChargeAudit.LogMaker.Meters;
using ChargeAudit.LogMaker.Studies;

namespace ChargeAudit.Benchmarks.Coverage;

/// <summary>Which rows of the table of coverage are asked for: some kinds of meters, some classes of sample interval, or all.</summary>
internal sealed class Family
{
    public const string Usage =
        "Kinds: instantaneous, average-end, average-start, on-change, counter-coarse, counter-fine, power-and-counter. Classes: 1s, 6s, "
        + "60s, 15min. Several are joined by commas.";

    private static readonly string[] Classes = ["1s", "6s", "60s", "15min"];
    private readonly HashSet<string> _kinds;
    private readonly HashSet<string> _classes;
    private readonly bool _allKinds;
    private readonly bool _allClasses;

    private Family(HashSet<string>? kinds, HashSet<string>? classes)
    {
        (_kinds, _allKinds) = (kinds ?? [], kinds is null);
        (_classes, _allClasses) = (classes ?? [], classes is null);
    }

    /// <summary>The family that words ask for; null where a word is not known.</summary>
    /// <param name="kinds">Kinds of meters, joined by commas; null: all.</param>
    /// <param name="classes">Classes of sample interval, joined by commas; null: all.</param>
    public static Family? Of(string? kinds, string? classes)
    {
        string?[]? wantedKinds = kinds?.Split(',').Select(Kind).ToArray();
        string?[]? wantedClasses = classes?.Split(',').Select(Class).ToArray();
        return wantedKinds?.Contains(null) == true || wantedClasses?.Contains(null) == true
            ? null
            : new Family(wantedKinds?.OfType<string>().ToHashSet(), wantedClasses?.OfType<string>().ToHashSet());
    }

    /// <summary>Whether the study of a seed may hold such a log. The maker goes through the classes in turn, so others need not be
    /// made.</summary>
    public bool MayHold(ulong seed) => _allClasses || _classes.Contains(IntervalClass.All[(int)(seed % 4)].Name);

    /// <summary>Whether a study has a figure that counts and comes from such a log.</summary>
    public bool Holds(MadeStudy study) => study.Truths.Select(t => new Trial(study, t, null, null)).Any(t => t.Counts && Holds(t));

    /// <summary>Whether a figure comes from such a log.</summary>
    public bool Holds(Trial trial) => (_allKinds || _kinds.Contains(MeterKind.Of(trial.Truth.Meter)))
        && (_allClasses || _classes.Contains(IntervalClass.Of(trial.Truth.Meter.IntervalS).Name));

    /// <summary>Whether a row is asked for; where kinds are, rows by class would hold them only.</summary>
    public bool Shows(CoverageRow row) => IntervalClass.All.Any(c => c.Name == row.Class) ? _allKinds
        && (_allClasses || _classes.Contains(row.Class)) : _allKinds || _kinds.Contains(row.Class);

    private static string? Class(string word) => Array.IndexOf(Classes, word) is >= 0 and var i ? IntervalClass.All[i].Name : null;

    private static string? Kind(string word)
    {
        MeterSheet meter = new() { Name = word, Place = LogMaker.Chargers.Place.Wall, Kind = RowKind.Instantaneous, IntervalS = 1 };
        return word switch
        {
            "instantaneous" => MeterKind.Of(meter),
            "average-end" => MeterKind.Of(meter with { Kind = RowKind.AverageEnding }),
            "average-start" => MeterKind.Of(meter with { Kind = RowKind.AverageStarting }),
            "on-change" => MeterKind.Of(meter with { Kind = RowKind.OnChange }),
            "counter-coarse" => MeterKind.Of(meter with { Kind = RowKind.CounterOnly, CounterStepWh = 1 }),
            "counter-fine" => MeterKind.Of(meter with { Kind = RowKind.CounterOnly, CounterStepWh = 0.1 }),
            "power-and-counter" => MeterKind.Of(meter with { CounterStepWh = 1 }),
            _ => null,
        };
    }
}
