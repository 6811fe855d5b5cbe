using System.Text.Json.Serialization;
using ChargeAudit.Comparing.Procedures;

namespace ChargeAudit.Comparing.Results;

/// <summary>A published test procedure that an audit can work out as well.</summary>
public enum PublishedProcedure
{
    /// <summary>None was asked for.</summary>
    [JsonStringEnumMemberName("none")] None,

    /// <summary>10 CFR part 430, subpart B, appendix Y.</summary>
    [JsonStringEnumMemberName("us-appendix-y")] UsAppendixY,
}

/// <summary>One log taken as the procedure's test.</summary>
/// <param name="Run">Id of the run; null where there is none at the wall.</param>
/// <param name="ChargeFile">First file of the log of charge and maintenance; null where there is none.</param>
/// <param name="WaitingFile">First file of the log with no battery; null where there is none.</param>
/// <param name="Result">What it gives.</param>
public sealed record ProcedureTest(string? Run, string? ChargeFile, string? WaitingFile, UsAppendixYResult Result)
{
    /// <summary>The conditions that do not hold, as sentences.</summary>
    public IReadOnlyList<string> NotMet => [.. Result.Checks.Where(c => c.State == ConditionState.NotMet).Select(c => c.Text)];
}

/// <summary>The US procedure for one method.</summary>
/// <param name="Method">Name of the method.</param>
/// <param name="Tests">One entry for each run long enough for the test; where none is, the longest, to say what it lacks.</param>
/// <param name="Represented">The represented value over the tests; null where no test gives a figure. [kWh/a]</param>
public sealed record MethodProcedure(string Method, IReadOnlyList<ProcedureTest> Tests, RepresentedValue? Represented)
{
    /// <summary>The remark beside a represented value.</summary>
    public const string RepresentedNote =
        "The rule (10 CFR 429.39(a)(2)(ii)) wants a sample of separate units of one model; here each run of the study stands for a unit.";
}
