namespace ChargeAudit.Logs.Formats;

/// <summary>One interval reading.</summary>
/// <param name="Start">Its beginning. [s since 1970-01-01 UTC]</param>
/// <param name="DurationS">Its length. [s]</param>
/// <param name="Value">Value as written, before the power of ten.</param>
internal readonly record struct EspiReading(long Start, long DurationS, long Value);

/// <summary>What the readings of one series are.</summary>
/// <param name="Uom">Code of the unit.</param>
/// <param name="PowerOfTen">Exponent of the multiplier.</param>
/// <param name="Accumulation">Code that tells registers from differences.</param>
/// <param name="FlowDirection">Code of the direction; 0 where none is given.</param>
/// <param name="IntervalS">Length of readings that carry none. [s]</param>
/// <param name="Self">Address of the entry within the file.</param>
internal sealed record EspiReadingType(int Uom, int PowerOfTen, int Accumulation, int FlowDirection, long IntervalS, string Self)
{
    public const int WattHours = 72;
    public const int Joules = 31;
    public const int Watts = 38;

    // bulkQuantity and cumulative are registers that only rise; deltaData and the others are per interval.
    public bool IsRegister => Accumulation is 1 or 3 or 9;

    public bool IsEnergy => Uom is WattHours or Joules;

    public bool IsUsable => IsEnergy || Uom == Watts;

    /// <summary>Watt-hours, or watts, per unit of the value.</summary>
    public double Factor => Math.Pow(10, PowerOfTen) / (Uom == Joules ? 3600 : 1);
}
