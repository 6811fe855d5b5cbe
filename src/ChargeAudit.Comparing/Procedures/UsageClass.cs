using ChargeAudit.Studies;

namespace ChargeAudit.Comparing.Procedures;

/// <summary>
/// A product class of the US procedure with its usage profile: hours a day in each mode and charges a day; the rest of the day it is
/// unplugged. <i>Source:</i> 10 CFR 430 subpart B appendix Y, table 3.3.3; rows in us-appendix-y-classes.tsv with their marks.
/// </summary>
/// <param name="Number">1 to 7.</param>
/// <param name="Description">In words.</param>
/// <param name="Battery">Which batteries belong to it, in words.</param>
/// <param name="ActiveMaintenanceH">Hours a day in active and maintenance mode. [h]</param>
/// <param name="StandbyH">Hours a day with no battery. [h]</param>
/// <param name="OffH">Hours a day off. [h]</param>
/// <param name="ChargesPerDay">Charges a day.</param>
/// <param name="Mark">How far the row's numbers can be relied on.</param>
/// <param name="BorderMark">How far the borders of energy and voltage can be relied on.</param>
/// <param name="ReadOn">The day on which the row was last read, or its borders where only they were; null: never.</param>
public sealed record UsageClass(
    int Number, string Description, string Battery, double ActiveMaintenanceH, double StandbyH, double OffH, double ChargesPerDay,
        SourceMark Mark, SourceMark BorderMark, DateOnly? ReadOn)
{
    private static readonly Lazy<IReadOnlyList<UsageClass>> Table =
        new(() => [.. DataTable.Read("us-appendix-y-classes.tsv").Select(Read)]);

    /// <summary>All classes in order.</summary>
    public static IReadOnlyList<UsageClass> All => Table.Value;

    /// <summary>Longest charge that the profile leaves room for. [h]</summary>
    public double ThresholdH => ActiveMaintenanceH / ChargesPerDay;

    /// <summary>The class with a number.</summary>
    public static UsageClass Of(int number) => All.Single(c => c.Number == number);

    /// <summary>The class of a battery. The borders of class 3 are from memory.</summary>
    /// <param name="batteryWh">Energy of the battery. [Wh]</param>
    /// <param name="batteryV">Nominal voltage of the battery. [V]</param>
    /// <param name="coupling">How it meets the charger.</param>
    /// <returns>The class; for an inductive charger that no class covers, the one that the same battery would have by cable.</returns>
    public static UsageClass For(double batteryWh, double batteryV, ChargerCoupling coupling)
    {
        int number = (coupling, batteryWh, batteryV) switch
        {
            (ChargerCoupling.InductiveWet, <= 5, _) => 1,
            (_, > 3000, _) => 7,
            (_, >= 100, >= 20) => 6,
            (_, >= 100, _) => 5,
            (_, _, > 10) => 4,
            (_, _, >= 4) => 3,
            _ => 2,
        };
        return Of(number);
    }

    private static UsageClass Read(IReadOnlyDictionary<string, string> row) => new(
        (int)DataTable.Number(row["class"]),
        row["description"],
        row["battery"],
        DataTable.Number(row["active-maintenance-h"]),
        DataTable.Number(row["standby-h"]),
        DataTable.Number(row["off-h"]),
        DataTable.Number(row["charges-per-day"]),
        MarkOf(row["mark"]),
        MarkOf(row["border-mark"]),
        DataTable.Date(row["read-on"]));

    private static SourceMark MarkOf(string word) => word == "READ" ? SourceMark.Read : SourceMark.Memory;
}
