using ChargeAudit.Comparing.Results;
using ChargeAudit.Logs;

namespace ChargeAudit.Reports.Model.Sections;

/// <summary>How figures are obtained, and whose rules they follow.</summary>
internal static class MethodsSection
{
    /// <summary>The section; it speaks only of what these logs needed.</summary>
    public static Section Of(AuditResult result)
    {
        var kinds = result.Logs.Select(l => l.Layout.Samples).ToHashSet();
        var items = new List<string>
        {
            "Energy is real power added up over time. On the mains, voltage times current is apparent power and is never taken for real "
                + "power.",
        };
        if (kinds.Contains(SampleKind.Instantaneous))
        {
            items.Add("Readings at an instant are joined by straight lines (trapezoidal rule).");
        }

        if (kinds.Contains(SampleKind.AverageEnding) || kinds.Contains(SampleKind.AverageStarting))
        {
            items.Add("Readings that are means over an interval are multiplied by the length of their interval.");
        }

        if (kinds.Contains(SampleKind.OnChange))
        {
            items.Add("Readings written on change hold until the next one.");
        }

        items.AddRange(
        [
            "Energy per charge is the energy of the charge alone; what the charger uses afterwards, while the device is full, counts as "
                + "stand-by. The modes are those of the US procedure for battery chargers (10 CFR Part 430, Subpart B, Appendix Y).",
            "Uncertainty is carried source by source (JCGM 100:2008, 5.1.2 and 5.2.2), so that errors common to two figures cancel or add "
                + "up as they do in truth. Intervals hold the true value with 95 % probability; their factor comes from the distributions "
                + "of the sources: Student's t with effective degrees of freedom where they are normal (JCGM 100:2008, G.4.1), less where "
                + "limits of a meter dominate. Two digits of uncertainty are shown (7.2.6).",
            "Stand-by power follows the methods of IEC 62301:2011 (clauses from memory). There is an edition of 2026, seen in catalogues: "
                + "its scope includes equipment on an external supply, and what else it changes is not known here.",
            "The hours of all modes add up to those of a year. A year is worked out at the wall only, because that is what you pay for.",
            "In the charts, long logs are reduced to fewer points; the least and greatest reading of each piece stay visible as a band. "
                + "Figures always come from all rows.",
        ]);
        return new Section("methods", "Methods and sources", [new Bullets(items)]);
    }
}
