using ChargeAudit.Reports.Text;

namespace ChargeAudit.Reports.Model.Sections;

/// <summary>What can hurt someone who repeats the measurement.</summary>
internal static class CautionSection
{
    /// <summary>The section.</summary>
    public static Section Of() => new("cautions", "Cautions", [new Bullets(Cautions.All)]);
}
