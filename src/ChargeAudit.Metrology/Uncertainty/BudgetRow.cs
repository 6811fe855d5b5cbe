namespace ChargeAudit.Metrology.Uncertainty;

/// <summary>What sort of error a source is: it decides what would help.</summary>
public enum BudgetKind
{
    /// <summary>A meter's share of the reading.</summary>
    MeterGain,

    /// <summary>A meter's fixed part.</summary>
    MeterOffset,

    /// <summary>A meter's clock.</summary>
    Clock,

    /// <summary>The coarse steps of a meter's readings.</summary>
    Steps,

    /// <summary>Noise of the readings.</summary>
    Noise,

    /// <summary>What happened between two readings.</summary>
    Sampling,

    /// <summary>A gap in a log.</summary>
    Gap,

    /// <summary>Where a charge starts and ends.</summary>
    Edge,

    /// <summary>A counter's single readings.</summary>
    CounterReading,

    /// <summary>Scatter between runs.</summary>
    Repeatability,

    /// <summary>What a meter adds to the line: its resistance, its own supply.</summary>
    MeterInLine,

    /// <summary>Anything else.</summary>
    Other,
}

/// <summary>One line of an uncertainty budget.</summary>
/// <param name="Source">The source.</param>
/// <param name="Kind">What sort of error it is.</param>
/// <param name="StandardUncertainty">Its part of the figure's uncertainty, without sign, in the figure's unit.</param>
/// <param name="SharePercent">Its share of the variance, 0 to 100. [%]</param>
public sealed record BudgetRow(InfluenceSource Source, BudgetKind Kind, double StandardUncertainty, double SharePercent);
