using ChargeAudit.Logs;
using ChargeAudit.Metrology;
using ChargeAudit.Studies;

namespace ChargeAudit.Tests.Studies;

public class ThresholdTextTests
{
    [Theory]
    [InlineData("0.5 W", LogQuantity.Power, 0.5, false)]
    [InlineData("500mW", LogQuantity.Power, 0.5, false)]
    [InlineData("20 mA", LogQuantity.Current, 0.02, false)]
    [InlineData("5 %", LogQuantity.Power, 0.05, true)]
    public void A_change_with_its_unit(string text, LogQuantity quantity, double amount, bool isShare) =>
        Assert.Equal(new ChangeThreshold(quantity, amount, isShare), ThresholdText.TryParse(text));

    [Theory]
    [InlineData("")]
    [InlineData("0.5")]
    [InlineData("0 W")]
    [InlineData("-1 W")]
    [InlineData("1,5 W")]
    [InlineData("5 V")]
    public void Anything_else_is_refused(string text) => Assert.Null(ThresholdText.TryParse(text));
}
