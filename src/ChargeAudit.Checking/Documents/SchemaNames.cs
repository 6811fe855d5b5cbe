namespace ChargeAudit.Checking.Documents;

/// <summary>Name and version of every JSON document: the first member of each. A version rises when a reader of the old one would go
/// wrong.</summary>
internal static class SchemaNames
{
    /// <summary>The answer of an audit, <c>results.json</c>.</summary>
    public const string Audit = "chargeaudit-audit/1";

    /// <summary>Measured logs.</summary>
    public const string Measure = "chargeaudit-measure/1";

    /// <summary>Inspected logs.</summary>
    public const string Inspect = "chargeaudit-inspect/1";

    /// <summary>Summarized logs.</summary>
    public const string Summarize = "chargeaudit-summarize/1";

    /// <summary>A simulated study.</summary>
    public const string Simulate = "chargeaudit-simulate/1";

    /// <summary>Two coupled coils.</summary>
    public const string Coils = "chargeaudit-coils/1";

    /// <summary>A drafted study.</summary>
    public const string Draft = "chargeaudit-draft/1";

    /// <summary>The verdict of a check.</summary>
    public const string Check = "chargeaudit-check/1";

    /// <summary>A plan.</summary>
    public const string Plan = "chargeaudit-plan/1";

    /// <summary>A plan of devices and runs.</summary>
    public const string PlanOfDevices = "chargeaudit-plan-devices/1";

    /// <summary>Many audits as one answer.</summary>
    public const string Pool = "chargeaudit-pool/1";

    /// <summary>A line of a history.</summary>
    public const string History = "chargeaudit-history/1";

    /// <summary>A bundle that was written.</summary>
    public const string Bundle = "chargeaudit-bundle/1";

    /// <summary>A bundle that was verified.</summary>
    public const string BundleVerification = "chargeaudit-bundle-verification/1";

    /// <summary>The list of files of a folder of results.</summary>
    public const string Files = "chargeaudit-files/1";

    /// <summary>A failure, instead of results.</summary>
    public const string Error = "chargeaudit-error/1";
}
