namespace ChargeAudit.Studies;

/// <summary>What was set for a run: where the device lay, and in what. Immutable.</summary>
/// <param name="Values">Numeric factors that were given, each in its own unit (see <see cref="Factor"/>).</param>
/// <param name="Case">Name of the device's case; null where not given.</param>
public sealed record RunFactors(IReadOnlyDictionary<Factor, double> Values, string? Case)
{
    /// <summary>Nothing was given.</summary>
    public static RunFactors None { get; } = new(new Dictionary<Factor, double>(), null);

    /// <summary>Whether nothing was given.</summary>
    public bool IsNone => Values.Count == 0 && Case is null;

    /// <summary>Whether a factor was given.</summary>
    /// <param name="factor">The factor.</param>
    public bool Has(Factor factor) => factor == Factor.Case ? Case is not null : Values.ContainsKey(factor);

    /// <summary>The value of a numeric factor; null where not given.</summary>
    /// <param name="factor">The factor.</param>
    public double? Of(Factor factor) => Values.TryGetValue(factor, out double value) ? value : null;

    /// <summary>Symbol of a factor's unit; empty for one that is told by name.</summary>
    /// <param name="factor">The factor.</param>
    public static string UnitOf(Factor factor) => factor switch
    {
        Factor.OffsetX or Factor.OffsetY or Factor.Gap => "mm",
        Factor.Rotation => "°",
        Factor.PowerLevel => "W",
        Factor.Temperature => "°C",
        _ => "",
    };
}
