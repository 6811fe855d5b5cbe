using System.Text.Json;
using ChargeAudit.Comparing.Results;

namespace ChargeAudit.Reports.Json;

/// <summary>The years of the methods beside each other, in JSON.</summary>
internal static class YearComparisonJson
{
    /// <summary>Writes the members <c>yearDifferences</c> and <c>paybacks</c>.</summary>
    public static void Write(Utf8JsonWriter json, AuditResult result)
    {
        json.Objects("yearDifferences", result.Years, y =>
        {
            json.WriteString("reference", y.Reference);
            json.WriteString("method", y.Method);
            json.Figure("energy", y.Difference.Energy);
            json.Figure("cost", y.Difference.Cost);
            json.Figure("co2", y.Difference.Co2);
        });
        json.Objects("paybacks", result.Paybacks, p =>
        {
            json.WriteString("now", p.Now);
            json.WriteString("bought", p.Bought);
            json.Number("price", p.Price);
            json.Figure("years", p.Years);
        });
    }
}
