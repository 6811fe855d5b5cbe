namespace ChargeAudit.LogMaker.OddDays;

/// <summary>All odd days.</summary>
public static class OddDayCatalogue
{
    public static IReadOnlyList<OddDay> All { get; } = [.. ChargesAsTheyAre.All, .. MetersAsTheyAre.All];
}
