using System.Globalization;
using System.Text;
using ChargeAudit.Logs.Dialects;
using ChargeAudit.Logs.Numbers;

namespace ChargeAudit.Tests.Logs.Numbers;

public sealed class PlainNumberTests
{
    private const string Signs = "0123456789012345678901234567890123456789..--,: /+eE'";

    [Theory]
    [InlineData("5", true, -1)]
    [InlineData("-0.25", true, 2)]
    [InlineData("12345678.5", true, 1)]
    [InlineData("123456789012345", true, -1)]
    [InlineData("1234567890123456", false, -1)]
    [InlineData("5.", false, 0)]
    [InlineData(".5", false, -1)]
    [InlineData("-", false, -1)]
    [InlineData("", false, -1)]
    [InlineData("+5", false, -1)]
    [InlineData("1.2.24", false, 1)]
    [InlineData("1,5", false, -1)]
    public void OnlyDigitsAPointBetweenThemAndAMinusBeforeThemArePlain(string field, bool plain, int places)
    {
        Assert.Equal(plain, PlainNumber.Is(field, out int found));
        Assert.True(!plain || found == places);
    }

    [Fact]
    public void APlainNumberIsANumberAndNothingElse()
    {
        var dice = new Random(20);
        var style = new NumberStyle((byte)'.', (byte)',');
        int plain = 0;
        for (int i = 0; i < 200_000; i++)
        {
            string field = string.Concat(Enumerable.Range(0, dice.Next(1, 12)).Select(_ => Signs[dice.Next(Signs.Length)]));
            if (!PlainNumber.Is(field, out int places))
            {
                continue;
            }

            plain++;
            byte[] bytes = Encoding.UTF8.GetBytes(field);
            Assert.True(NumberField.TryRead(bytes, style, out double value), field);
            Assert.Equal(double.Parse(field, CultureInfo.InvariantCulture), value);
            foreach (char mark in ".,")
            {
                Assert.True(PlainNumber.TryRead(field.Replace('.', mark), mark, out int again, out double read), field);
                Assert.Equal((places, BitConverter.DoubleToInt64Bits(value)), (again, BitConverter.DoubleToInt64Bits(read)));
            }

            Assert.False(NumberField.IsMissingMark(bytes), field);
            int point = field.IndexOf('.', StringComparison.Ordinal);
            Assert.Equal(point < 0 ? -1 : field.Length - point - 1, places);

            // Eight digits or fourteen without a point may be a date, which is tested separately.
            Assert.False(places >= 0 && Cells.IsTime(field), field);
        }

        Assert.True(plain > 10_000);
    }

    [Theory]
    [InlineData("8.700", true)]
    [InlineData("-310.125", true)]
    [InlineData("1234.500", false)]
    [InlineData("0.125", false)]
    [InlineData("8.70", false)]
    [InlineData("8700", false)]
    public void ThreeDigitsBehindAPointAndUpToThreeBeforeItMayBeThousands(string field, bool may)
    {
        Assert.True(PlainNumber.Is(field, out int places));
        Assert.Equal(may, PlainNumber.MayBeGrouped(field, places));
    }
}
