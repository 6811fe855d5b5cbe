namespace ChargeAudit.Studies;

/// <summary>How many hours a year is taken to have. <i>Source:</i> 365 days: 10 CFR 430 subpart B appendix Y; 365.25 days: UCUM, unit
/// <c>a</c>.</summary>
public enum YearLength
{
    /// <summary>365 days, 8 760 h: the convention of this program and of the US procedure.</summary>
    Common,

    /// <summary>365.25 days, 8 766 h: the mean Julian year.</summary>
    Julian,

    /// <summary>366 days, 8 784 h: a leap year.</summary>
    Leap,
}
