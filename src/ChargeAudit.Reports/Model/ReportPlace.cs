namespace ChargeAudit.Reports.Model;

/// <summary>Where a report will be read.</summary>
public enum ReportPlace
{
    /// <summary>In the folder that the audit wrote, with results and charts as files beside it.</summary>
    Folder,

    /// <summary>On the local page, or saved from it: nothing lies beside it.</summary>
    LocalPage,
}
