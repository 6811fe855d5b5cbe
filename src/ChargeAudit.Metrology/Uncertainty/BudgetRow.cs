namespace ChargeAudit.Metrology.Uncertainty;

/// <summary>One line of an uncertainty budget.</summary>
/// <param name="Source">The source.</param>
/// <param name="StandardUncertainty">Its part of the figure's uncertainty, without sign, in the figure's unit.</param>
/// <param name="SharePercent">Its share of the variance, 0 to 100. [%]</param>
public sealed record BudgetRow(InfluenceSource Source, double StandardUncertainty, double SharePercent);
