using System.Text.Json.Serialization;

namespace ChargeAudit.Checking.Planning;

/// <summary>What a test must be able to do.</summary>
public enum PlanAim
{
    /// <summary>Show that a design as good as its baseline keeps a margin: one-sided.</summary>
    [JsonStringEnumMemberName("keep-margin")] KeepMargin,

    /// <summary>Show that two methods differ, where they do by so much: two-sided.</summary>
    [JsonStringEnumMemberName("tell-apart")] TellApart,
}

/// <summary>What a test must be able to do, and how surely. Immutable.</summary>
/// <param name="Aim">Which of the two.</param>
/// <param name="Share">The margin, or the difference to be told, as a share. [1]</param>
/// <param name="Power">Probability with which it must succeed, between 0 and 1. [1]</param>
/// <param name="Alpha">Level of the test. [1]</param>
public sealed record RunsAim(PlanAim Aim, double Share, double Power = 0.8, double Alpha = 0.05);
