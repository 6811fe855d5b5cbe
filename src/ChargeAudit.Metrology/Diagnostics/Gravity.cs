namespace ChargeAudit.Metrology.Diagnostics;

/// <summary>How much a doubt matters, the gravest first.</summary>
public enum Gravity
{
    /// <summary>A figure may be wrong, or its interval too narrow.</summary>
    Wrong,

    /// <summary>An interval is wider for it, or a figure is missing.</summary>
    Wide,

    /// <summary>Two methods may not be comparable.</summary>
    Unfair,

    /// <summary>Something was assumed, as it was not stated.</summary>
    Assumed,

    /// <summary>How logs were read and cleaned, and which were left out.</summary>
    Reading,
}
