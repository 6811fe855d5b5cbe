using ChargeAudit.Reports.Text;

namespace ChargeAudit.Tests.Reports.Text;

public sealed class ShareTextTests
{
    [Theory]
    [InlineData(new[] { 100.0 / 3, 100.0 / 3, 100.0 / 3 }, new[] { "33.4 %", "33.3 %", "33.3 %" })]
    [InlineData(new[] { 99.97, 0.02, 0.01 }, new[] { "100.0 %", "0.0 %", "0.0 %" })]
    [InlineData(new[] { 79.02, 20.46, 0.52 }, new[] { "79.0 %", "20.5 %", "0.5 %" })]
    [InlineData(new double[0], new string[0])]
    public void Shares_add_up_as_printed(double[] shares, string[] texts) => Assert.Equal(texts, ShareText.Of(shares));
}
