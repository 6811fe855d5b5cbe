namespace ChargeAudit.Pooling.Results;

/// <summary>Chargers beside each other by their overhead, each device compared with itself.</summary>
/// <param name="Chargers">The chargers, the one that uses least first.</param>
/// <param name="Devices">The devices' own effects.</param>
/// <param name="Cells">What was measured of each device on each charger.</param>
/// <param name="Pairs">Each pair of chargers.</param>
/// <param name="DeviceSpread">Standard deviation between devices, as a share of the overhead ratio. [1]</param>
/// <param name="InteractionSpread">Standard deviation of the interaction of device and charger, likewise; it includes the scatter between
/// audits where no cell was measured twice. [1]</param>
/// <param name="AuditSpread">Standard deviation between audits of one cell; null where no cell was measured twice. [1]</param>
/// <param name="DegreesOfFreedom">Degrees of freedom of the differences. [1]</param>
public sealed record ChargerRanking(
    IReadOnlyList<RankedCharger> Chargers,
    IReadOnlyList<DeviceEffect> Devices,
    IReadOnlyList<TableCell> Cells,
    IReadOnlyList<ChargerPair> Pairs,
    double DeviceSpread,
    double InteractionSpread,
    double? AuditSpread,
    double DegreesOfFreedom);

/// <summary>A charger of a ranking.</summary>
/// <param name="Name">The charger.</param>
/// <param name="Ratio">Overhead ratio for the mean device; its interval holds the devices' spread too. [1]</param>
/// <param name="Best">Probability that it uses least of all. [1]</param>
/// <param name="FirstThree">Probability that it is among the three that use least. [1]</param>
public sealed record RankedCharger(string Name, PooledValue Ratio, double Best, double FirstThree);

/// <summary>A device of a ranking.</summary>
/// <param name="Name">The device.</param>
/// <param name="Factor">Its overhead ratio divided by that of the mean device, drawn towards 1 the more, the less its audits tell.
/// [1]</param>
public sealed record DeviceEffect(string Name, double Factor);

/// <summary>A cell of the table of devices and chargers.</summary>
/// <param name="Device">The device.</param>
/// <param name="Charger">The charger.</param>
/// <param name="Ratio">The overhead ratio measured there. [1]</param>
/// <param name="Audits">How many audits. [1]</param>
public sealed record TableCell(string Device, string Charger, PooledValue Ratio, int Audits);

/// <summary>Two chargers beside each other.</summary>
/// <param name="First">The one that uses less.</param>
/// <param name="Second">The other.</param>
/// <param name="Ratio">Second divided by first. [1]</param>
/// <param name="P">Probability of a difference so great if there were none, adjusted for the number of pairs. [1]</param>
/// <param name="ToldApart">Whether the two can be told apart at a level of 5 % over all pairs.</param>
public sealed record ChargerPair(string First, string Second, PooledValue Ratio, double P, bool ToldApart);
