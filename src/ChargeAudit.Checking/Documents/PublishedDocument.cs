namespace ChargeAudit.Checking.Documents;

/// <summary>Published limits beside a method.</summary>
internal sealed record YardsticksDocument(string Method, IReadOnlyList<LimitDocument> Limits);

/// <summary>One published limit beside a figure.</summary>
internal sealed record LimitDocument(
    string Id,
    string What,
    string Sense,
    double? Limit,
    string? LimitReason,
    string Unit,
    MeasuredDocument? Value,
    string? ValueReason,
    string Standing,
    string Source,
    string AppliesFrom,
    string? AppliesUntil,
    string? AppliesUntilReason,
    string Mark,
    string? ReadOn,
    string? ReadOnReason,
    string? Doubt,
    string? DoubtReason,
    string Text);

/// <summary>A published procedure, worked out.</summary>
internal sealed record ProcedureDocument(string Name, string Source, bool Certificate, IReadOnlyList<MethodProcedureDocument> Methods);

/// <summary>A procedure's tests of one method, and what they represent.</summary>
internal sealed record MethodProcedureDocument(
    string Method, IReadOnlyList<ProcedureTestDocument> Tests, RepresentedDocument? Represented, string? RepresentedReason);

/// <summary>What a sample of tests represents.</summary>
internal sealed record RepresentedDocument(
    double? Mean, double? UpperLimit, string? UpperLimitReason, double? Value, string? ValueReason, string Unit, string Note);

/// <summary>One test of a procedure.</summary>
internal sealed record ProcedureTestDocument(
    string? Run,
    string? RunReason,
    string? ChargeLog,
    string? ChargeLogReason,
    string? WaitingLog,
    string? WaitingLogReason,
    string Verdict,
    string Text,
    double? Class,
    string? ClassReason,
    string? ClassMark,
    string? ClassMarkReason,
    string? Equation,
    string? EquationReason,
    MeasuredDocument? UnitEnergyConsumption,
    string? UnitEnergyConsumptionReason,
    double? TestDurationH,
    MeasuredDocument? E24,
    string? E24Reason,
    MeasuredDocument? MaintenancePower,
    string? MaintenancePowerReason,
    string? MaintenanceWindow,
    string? MaintenanceWindowReason,
    MeasuredDocument? NoBatteryPower,
    string? NoBatteryPowerReason,
    MeasuredDocument? OffPower,
    string? OffPowerReason,
    MeasuredDocument? BatteryEnergy,
    string? BatteryEnergyReason,
    IReadOnlyList<ConditionDocument> Conditions,
    LimitDocument? Limit,
    string? LimitReason,
    AppendixY1Document AppendixY1);

/// <summary>Whether a condition of a procedure was met.</summary>
internal sealed record ConditionDocument(string Id, string State, string Text);

/// <summary>The figures of appendix Y1.</summary>
internal sealed record AppendixY1Document(
    MeasuredDocument? ActiveChargeEnergy,
    string? ActiveChargeEnergyReason,
    MeasuredDocument? MaintenancePower,
    string? MaintenancePowerReason,
    MeasuredDocument? NoBatteryPower,
    string? NoBatteryPowerReason,
    MeasuredDocument? StandbyPower,
    string? StandbyPowerReason,
    MeasuredDocument? OffPower,
    string? OffPowerReason,
    double? DurationH,
    string? DurationHReason,
    IReadOnlyList<string> Notes);
