namespace ChargeAudit.Studies;

/// <summary>What the numbers of a price or emission file are.</summary>
public enum PriceUnit
{
    /// <summary>Per kilowatt-hour.</summary>
    PerKwh,

    /// <summary>Per megawatt-hour.</summary>
    PerMwh,
}

/// <summary>A CSV with a time column and a value column; each value holds until the next row's time.</summary>
/// <param name="File">Path as written.</param>
/// <param name="Unit">What the numbers are.</param>
public sealed record PriceFile(string File, PriceUnit Unit = PriceUnit.PerKwh);
