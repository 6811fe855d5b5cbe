namespace ChargeAudit.LogMaker.Studies;

/// <summary>A class of sample intervals, with lengths of charge and waiting that suit it. All lengths in seconds.</summary>
/// <param name="Name">Words for the table.</param>
/// <param name="IntervalsS">The intervals.</param>
/// <param name="ChargeS">Length of a charge, from and to.</param>
/// <param name="WaitingS">Waiting before a run.</param>
/// <param name="MaintenanceS">Time when full after it.</param>
/// <param name="StandbyS">A log of its own for waiting.</param>
public sealed record IntervalClass(string Name, double[] IntervalsS, (double From, double To) ChargeS, (double From, double To) WaitingS,
    (double From, double To) MaintenanceS, (double From, double To) StandbyS)
{
    public static IReadOnlyList<IntervalClass> All { get; } =
    [
        new("0.25 to 1 s", [0.25, 0.5, 1, 1], (1800, 4500), (60, 600), (900, 2400), (1800, 5400)),
        new("2 to 6 s", [2, 3, 5, 6], (2700, 7200), (90, 900), (1200, 4800), (3600, 10_800)),
        new("10 to 60 s", [10, 15, 20, 30, 60], (3600, 10_800), (240, 1800), (1800, 7200), (7200, 28_800)),
        new("1.5 to 15 min", [90, 120, 180, 300, 600, 900], (7200, 18_000), (900, 3600), (5400, 14_400), (21_600, 86_400)),
    ];

    /// <summary>The class that an interval belongs to.</summary>
    public static IntervalClass Of(double intervalS) => All.First(c => intervalS <= c.IntervalsS.Max());
}
