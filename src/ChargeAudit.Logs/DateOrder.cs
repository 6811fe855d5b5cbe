namespace ChargeAudit.Logs;

/// <summary>Which part of a date such as 03/04/2031 comes first.</summary>
public enum DateOrder
{
    /// <summary>Day, month, year.</summary>
    DayFirst,

    /// <summary>Month, day, year.</summary>
    MonthFirst,
}
