using System.Text.Json.Serialization;

namespace ChargeAudit.Comparing.Procedures;

/// <summary>Whether a condition of a procedure holds.</summary>
public enum ConditionState
{
    /// <summary>It holds.</summary>
    [JsonStringEnumMemberName("met")] Met,

    /// <summary>It does not hold: the procedure was not followed.</summary>
    [JsonStringEnumMemberName("not-met")] NotMet,

    /// <summary>No log can show it; whoever tested must know.</summary>
    [JsonStringEnumMemberName("not-shown")] NotShown,
}

/// <summary>A condition of a procedure beside what was found.</summary>
/// <param name="Id">Stable kebab-case id, such as <c>test-duration</c>.</param>
/// <param name="State">Whether it holds.</param>
/// <param name="Text">What is asked for and what was found, as a sentence with its clause.</param>
public sealed record ProcedureCheck(string Id, ConditionState State, string Text);
