namespace ChargeAudit.Checking.Planning;

/// <summary>A whole plan. Immutable.</summary>
public sealed record TestPlan
{
    /// <summary>What the test must do.</summary>
    public required RunsAim Aim { get; init; }

    /// <summary>One entry for each method and point, or a single one for a repeatability that was given.</summary>
    public required IReadOnlyList<RunsNeeded> Runs { get; init; }

    /// <summary>Whether the meter's accuracy is known; where it is not, runs with two meters are not worked out.</summary>
    public required bool MeterKnown { get; init; }

    /// <summary>How to log a waiting charger; null where not asked for.</summary>
    public StandbyPlan? Standby { get; init; }

    /// <summary>Further remarks and advice, as sentences.</summary>
    public required IReadOnlyList<string> Advice { get; init; }
}

/// <summary>Runs needed.</summary>
/// <param name="For">What it is about, in words.</param>
/// <param name="Repeatability">Scatter of a single run that was assumed, as a share. [1]</param>
/// <param name="SameMeter">Runs of each with one and the same meter; null where no number will do. [1]</param>
/// <param name="TwoMeters">Runs of each with two meters of that kind; null where no number will do, or their accuracy is not known.
/// [1]</param>
/// <param name="PowerReached">Power with <paramref name="SameMeter"/> runs; null where there are none. [1]</param>
public sealed record RunsNeeded(string For, double Repeatability, int? SameMeter, int? TwoMeters, double? PowerReached)
{
    /// <summary>Where the numbers are of blocks of runs: how many runs are made in each; null: they are of runs. [1]</summary>
    public int? RunsInBlock { get; init; }
}
