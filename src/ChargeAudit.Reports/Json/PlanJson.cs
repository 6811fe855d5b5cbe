using ChargeAudit.Checking.Documents;
using ChargeAudit.Checking.Planning;
using ChargeAudit.Metrology;

namespace ChargeAudit.Reports.Json;

/// <summary>A plan in JSON.</summary>
public static class PlanJson
{
    /// <summary>Name and version of the document.</summary>
    public const string Schema = SchemaNames.Plan;

    private const string NoNumber = "no number of runs will do";
    private const string MeterNotKnown = "the meter's accuracy is not known";

    /// <summary>The document; it ends with a line feed.</summary>
    /// <param name="plan">The plan.</param>
    public static string Of(TestPlan plan)
    {
        ArgumentNullException.ThrowIfNull(plan);
        return ReportContext.Text(new PlanDocument(
            Schema,
            StableName.Of(plan.Aim.Aim),
            plan.Aim.Share,
            plan.Aim.Power,
            plan.Aim.Alpha,
            [.. plan.Runs.Select(r => Runs(plan, r))],
            plan.Standby is { } standby ? Standby(standby) : null,
            Known.Unless(plan.Standby, "no stand-by power was given"),
            plan.Advice));
    }

    private static RunsNeededDocument Runs(TestPlan plan, RunsNeeded r) => new(
        r.For,
        r.Repeatability,
        r.SameMeter,
        Known.Unless(r.SameMeter, NoNumber),
        r.TwoMeters,
        Known.Unless(r.TwoMeters, plan.MeterKnown ? NoNumber : MeterNotKnown),
        Known.Finite(r.PowerReached),
        Known.Unless(r.PowerReached, NoNumber),
        r.RunsInBlock);

    private static StandbyPlanDocument Standby(StandbyPlan standby) => new(
        Known.Finite(standby.LengthS),
        Known.Unless(standby.LengthS, "no length of log will do"),
        Known.Finite(standby.MeterShare),
        Known.Unless(standby.MeterShare, MeterNotKnown),
        standby.Carries,
        standby.Advice);
}

/// <summary>A plan.</summary>
internal sealed record PlanDocument(
    string Schema,
    string Aim,
    double Share,
    double Power,
    double Alpha,
    IReadOnlyList<RunsNeededDocument> Runs,
    StandbyPlanDocument? Standby,
    string? StandbyReason,
    IReadOnlyList<string> Advice);

/// <summary>Runs needed.</summary>
internal sealed record RunsNeededDocument(
    string For,
    double Repeatability,
    int? SameMeter,
    string? SameMeterReason,
    int? TwoMeters,
    string? TwoMetersReason,
    double? PowerReached,
    string? PowerReachedReason,
    [property: System.Text.Json.Serialization.JsonIgnore(Condition = System.Text.Json.Serialization.JsonIgnoreCondition.WhenWritingNull)]
    int? RunsInBlock);

/// <summary>How to log a waiting charger.</summary>
internal sealed record StandbyPlanDocument(
    double? LengthS, string? LengthSReason, double? MeterShare, string? MeterShareReason, bool Carries, IReadOnlyList<string> Advice);
