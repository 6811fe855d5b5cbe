using System.Text.Json.Serialization;

namespace ChargeAudit.Logs;

/// <summary>Which part of a date such as 03/04/2031 comes first.</summary>
public enum DateOrder
{
    /// <summary>Day, month, year.</summary>
    [JsonStringEnumMemberName("day-first")] DayFirst,

    /// <summary>Month, day, year.</summary>
    [JsonStringEnumMemberName("month-first")] MonthFirst,
}
