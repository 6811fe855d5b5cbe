using ChargeAudit.Metrology;
using ChargeAudit.Metrology.Uncertainty;

namespace ChargeAudit.Tests.Measuring;

/// <summary>Accuracies of a meter, by their texts.</summary>
internal static class DataSheet
{
    public static Dictionary<LogQuantity, MeterAccuracy> Of(params (LogQuantity Quantity, string Text)[] texts) =>
        texts.ToDictionary(t => t.Quantity, t => MeterAccuracy.Parse(t.Text, t.Quantity));
}
