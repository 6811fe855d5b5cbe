using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.Comparing.Placement;

/// <summary>
/// A linear model of what a charge takes: a constant plus one coefficient for each term. Each coefficient's interval joins the scatter of
/// the runs about the model with the measurement errors that the runs have in common. Immutable.
/// </summary>
/// <param name="Terms">The terms, the constant first.</param>
/// <param name="Runs">Runs that it rests on. [1]</param>
/// <param name="DegreesOfFreedom">Runs less coefficients. [1]</param>
/// <param name="ResidualScatter">Standard deviation of a run about the model, in <paramref name="Unit"/>; not a number where no freedom is
/// left.</param>
/// <param name="Unit">Unit of what is modelled: Wh per charge, or 1 for energy in per energy delivered.</param>
/// <param name="RSquared">Share of the scatter that the model explains. [1]</param>
/// <param name="ConditionNumber">Of the centred and scaled terms; above about 30 they can hardly be told apart. [1]</param>
/// <param name="LackOfFit">Whether the model misses some of the shape; null where no setting was repeated.</param>
/// <param name="Notes">What was left out of the model and why, as sentences.</param>
public sealed record PlacementModel(
    IReadOnlyList<ModelTerm> Terms,
    int Runs,
    double DegreesOfFreedom,
    double ResidualScatter,
    string Unit,
    double RSquared,
    double ConditionNumber,
    LackOfFit? LackOfFit,
    IReadOnlyList<string> Notes);

/// <summary>A term of the model.</summary>
/// <param name="Id">Stable id, such as <c>offset-x</c>, <c>distance-squared</c> or <c>case:silicone</c>.</param>
/// <param name="Name">Its name for people.</param>
/// <param name="Coefficient">Its coefficient; its components keep scatter and shared measurement errors apart.</param>
public sealed record ModelTerm(string Id, string Name, Measured Coefficient)
{
    /// <summary>Standard uncertainty by the scatter of the runs; null where not known, in the coefficient's unit.</summary>
    public double? Scatter => Part(c => double.IsFinite(c.Source.DegreesOfFreedom));

    /// <summary>Standard uncertainty by the measurement errors that all runs share; null where not known, in the coefficient's
    /// unit.</summary>
    public double? SharedMeasurement => Part(c => !double.IsFinite(c.Source.DegreesOfFreedom));

    private double? Part(Func<UncertaintyComponent, bool> which) => Coefficient.UnknownBecause is not null
        ? null
        : Math.Sqrt(Coefficient.Components.Where(which).Sum(c => c.Variance));
}

/// <summary>
/// The scatter about the model beside the scatter of repeated settings. <i>Source:</i> N. R. Draper and H. Smith, Applied Regression
/// Analysis, 1.5 (lack of fit and pure error), from memory.
/// </summary>
/// <param name="F">Mean square of what the model misses by that of pure repeats. [1]</param>
/// <param name="ModelFreedom">Degrees of freedom above the line. [1]</param>
/// <param name="RepeatFreedom">Degrees of freedom below it. [1]</param>
/// <param name="Probability">Probability of so great a value if the model missed nothing. [1]</param>
public sealed record LackOfFit(double F, int ModelFreedom, int RepeatFreedom, double Probability)
{
    /// <summary>Probability below which the model is taken to miss something. [1]</summary>
    public const double Clear = 0.05;
}
