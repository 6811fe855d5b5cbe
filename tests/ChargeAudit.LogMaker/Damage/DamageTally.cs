using System.Globalization;
using System.Text;

namespace ChargeAudit.LogMaker.Damage;

/// <summary>What became of a damaged log.</summary>
public enum DamageOutcome
{
    /// <summary>The truth lies inside all intervals, or where none is given the reason is; and a fault or a doubt was shown that the sound
    /// log does not have.</summary>
    InsideTold,

    /// <summary>The truth lies inside, and nothing was said.</summary>
    InsideSilent,

    /// <summary>The truth lies outside, and something was said.</summary>
    OutsideTold,

    /// <summary>The truth lies outside, and nothing was said.</summary>
    OutsideSilent,

    /// <summary>The log was refused.</summary>
    Refused,

    /// <summary>The interval of the sound log misses the truth as well, as one in twenty may.</summary>
    SoundMisses,
}

/// <summary>Counts what became of damaged logs, by family and kind of damage.</summary>
public sealed class DamageTally
{
    private readonly Dictionary<(string Family, string Name), int[]> _counts = [];

    /// <summary>How many there are of an outcome.</summary>
    public int Of(DamageOutcome outcome) => _counts.Values.Sum(c => c[(int)outcome]);

    /// <summary>Counts one.</summary>
    public void Add(DamageKind kind, DamageOutcome outcome)
    {
        if (!_counts.TryGetValue((kind.Family, kind.Name), out int[]? counts))
        {
            _counts[(kind.Family, kind.Name)] = counts = new int[6];
        }

        counts[(int)outcome]++;
    }

    /// <summary>The table.</summary>
    public string ToMarkdown()
    {
        StringBuilder text =
            new("| damage | kind | logs | inside, told | inside, silent | outside, told | outside, silent | refused | sound log misses |\n"
            + "|---|---|---|---|---|---|---|---|---|\n");
        foreach (((string family, string name), int[] c) in _counts)
        {
            text.Append(CultureInfo.InvariantCulture, $"| {family} | {name} | {c.Sum()} | {string.Join(" | ", c)} |\n");
        }

        return text.ToString();
    }
}
