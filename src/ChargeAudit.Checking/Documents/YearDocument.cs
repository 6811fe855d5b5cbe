namespace ChargeAudit.Checking.Documents;

/// <summary>A year of a method.</summary>
internal sealed record YearDocument(
    MeasuredDocument? Energy,
    string? EnergyReason,
    MeasuredDocument? Cost,
    string? CostReason,
    IReadOnlyList<YearOfModeDocument> ByMode,
    YearDetailDocument? Detail,
    string? DetailReason);

/// <summary>A mode's part of a year.</summary>
internal sealed record YearOfModeDocument(
    string Mode, double? HoursPerYear, MeasuredDocument? Energy, string? EnergyReason, MeasuredDocument? Cost, string? CostReason);

/// <summary>What else is known about a year.</summary>
internal sealed record YearDetailDocument(
    double? HoursPerYear,
    double? ChargesPerYear,
    MeasuredDocument? EnergyPerUsualCharge,
    string? EnergyPerUsualChargeReason,
    MeasuredDocument? CostPerCharge,
    string? CostPerChargeReason,
    MeasuredDocument? CostPerChargeWithStandby,
    string? CostPerChargeWithStandbyReason,
    MeasuredDocument? StandbyEnergy,
    string? StandbyEnergyReason,
    MeasuredDocument? StandbyShare,
    string? StandbyShareReason,
    SavingDocument Unplugging,
    SavingDocument UnpluggingWhenFull,
    MeasuredDocument? FixedCharges,
    string? FixedChargesReason,
    MeasuredDocument? Co2,
    string? Co2Reason,
    IReadOnlyList<TornadoBarDocument> Tornado,
    DrawsDocument? EnergyMonteCarlo,
    string? EnergyMonteCarloReason,
    DrawsDocument? CostMonteCarlo,
    string? CostMonteCarloReason,
    IReadOnlyList<string> Assumptions);

/// <summary>What a habit would save.</summary>
internal sealed record SavingDocument(MeasuredDocument? Energy, string? EnergyReason, MeasuredDocument? Cost, string? CostReason);

/// <summary>What one assumption moves.</summary>
internal sealed record TornadoBarDocument(
    string What, string Unit, double? Low, double? High, double? ResultLow, double? ResultHigh, string ResultUnit, string Basis);

/// <summary>An interval from random draws.</summary>
internal sealed record DrawsDocument(double? Low, double? Median, double? High, double? Coverage, int Draws, int Seed);

/// <summary>A method's year less the reference's.</summary>
internal sealed record YearDifferenceDocument(
    string Reference,
    string Method,
    MeasuredDocument? Energy,
    string? EnergyReason,
    MeasuredDocument? Cost,
    string? CostReason,
    MeasuredDocument? Co2,
    string? Co2Reason);

/// <summary>When a purchase is paid for by what it saves.</summary>
internal sealed record PaybackDocument(string Now, string Bought, double? Price, MeasuredDocument? Years, string? YearsReason);
