namespace ChargeAudit.LogMaker.Chargers;

/// <summary>Where a meter sits.</summary>
public enum Place
{
    /// <summary>Between the socket and the adapter.</summary>
    Wall,

    /// <summary>Behind the adapter.</summary>
    Usb,
}
