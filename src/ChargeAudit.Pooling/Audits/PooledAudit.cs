using ChargeAudit.Checking;

namespace ChargeAudit.Pooling.Audits;

/// <summary>An audit that is to be pooled: its results, and what the list says about them. Immutable.</summary>
/// <param name="File">Its results.json, as the person named it, without folders that are nobody else's business.</param>
/// <param name="Design">What it measured.</param>
/// <param name="Reference">Name of the method that the others are divided by.</param>
public sealed record PooledAudit(string File, MeasuredDesign Design, string Reference)
{
    /// <summary>Name of the device.</summary>
    public required string Device { get; init; }

    /// <summary>SHA-256 of the study, or of the results where there was none: tells its own sources from those of others.</summary>
    public required string Mark { get; init; }

    /// <summary>Whether rules, and not the device, said when a charge had ended.</summary>
    public bool EndedByRule { get; init; }

    /// <summary>The published procedure that was followed; null where none was.</summary>
    public string? Procedure { get; init; }

    /// <summary>Name of the charger by method.</summary>
    public IReadOnlyDictionary<string, string> Chargers { get; init; } = new Dictionary<string, string>();

    /// <summary>Which instrument a meter's name stands for.</summary>
    public IReadOnlyDictionary<string, string> Instruments { get; init; } = new Dictionary<string, string>();

    /// <summary>What may explain differences: a number or a text by name.</summary>
    public IReadOnlyDictionary<string, object> Factors { get; init; } = new Dictionary<string, object>();
}
