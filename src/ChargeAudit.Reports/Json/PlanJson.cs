using ChargeAudit.Checking.Planning;
using ChargeAudit.Metrology;

namespace ChargeAudit.Reports.Json;

/// <summary>A plan in JSON.</summary>
public static class PlanJson
{
    /// <summary>Name and version of the document.</summary>
    public const string Schema = "chargeaudit-plan/1";

    private const string NoNumber = "no number of runs will do";

    /// <summary>The document; it ends with a line feed.</summary>
    /// <param name="plan">The plan.</param>
    public static string Of(TestPlan plan) => JsonText.Document(Schema, json =>
    {
        json.WriteString("aim", StableName.Of(plan.Aim.Aim));
        json.WriteNumber("share", plan.Aim.Share);
        json.WriteNumber("power", plan.Aim.Power);
        json.WriteNumber("alpha", plan.Aim.Alpha);
        json.Objects("runs", plan.Runs, r =>
        {
            json.WriteString("for", r.For);
            json.WriteNumber("repeatability", r.Repeatability);
            json.Number("sameMeter", r.SameMeter, NoNumber);
            json.Number("twoMeters", r.TwoMeters, plan.MeterKnown ? NoNumber : "the meter's accuracy is not known");
            json.Number("powerReached", r.PowerReached, NoNumber);
        });
        if (plan.Standby is { } standby)
        {
            json.Object("standby", () =>
            {
                json.Number("lengthS", standby.LengthS, "no length of log will do");
                json.Number("meterShare", standby.MeterShare, "the meter's accuracy is not known");
                json.WriteBoolean("carries", standby.Carries);
                json.Strings("advice", standby.Advice);
            });
        }
        else
        {
            json.Missing("standby", "no stand-by power was given");
        }

        json.Strings("advice", plan.Advice);
    });
}
